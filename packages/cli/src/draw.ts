import type { CheckedRecord } from '@ohmstead/language';
import { reachOf, reachSvg, waySvg, waysTo } from '@ohmstead/views';
import type { ExitStatus } from './main.js';
import { openRecord } from './open.js';
import { complain, type Surroundings } from './surroundings.js';

interface DrawCommandOptions {
  readonly state?: string[];
  readonly peak?: boolean;
  readonly circuit?: string;
  readonly along?: string;
  readonly howFar?: string;
}

/** Prints the circuit drawing. */
export async function draw(here: Surroundings, file: string, options: DrawCommandOptions): Promise<ExitStatus> {
  const opened = openRecord(here, file);
  if (!opened) return 2;
  const { record } = opened;
  if (options.along !== undefined || options.howFar !== undefined) return plot(here, record, options);
  // The layout is by far the largest thing in the command: only who draws pays for it.
  const { contactNames, drawCircuit } = await import('@ohmstead/views/drawing');
  const contacts = contactNames(record.analysis);
  const wrong = options.state?.find((name) => !contacts.includes(name));
  if (wrong !== undefined) {
    const known = contacts.length === 0 ? 'The record has none.' : `There are ${contacts.join(', ')}.`;
    complain(here, `Nothing called \`${wrong}\` can be pressed or closed. ${known}`);
    return 2;
  }
  if (options.circuit !== undefined && !hasName(options.circuit)) {
    complain(here, `No circuit has a part, run or splice called \`${options.circuit}\`.`);
    return 2;
  }
  const svg = await drawCircuit(record.analysis, {
    closed: options.state ?? [],
    loads: options.peak === true ? 'peak' : 'idle',
    circuitOf: options.circuit,
    findings: record.findings,
  });
  here.out(svg);
  return 0;

  function hasName(name: string): boolean {
    return record.analysis.circuits.some(({ supplies, devices, runs, circuit }) =>
      [...supplies, ...devices, ...runs, ...circuit.points].includes(name),
    );
  }
}

function plot(here: Surroundings, record: CheckedRecord, { along, howFar }: DrawCommandOptions): ExitStatus {
  const { analysis } = record;
  const { profile } = analysis.installation;
  if (along !== undefined) {
    const [first] = waysTo(analysis, along).sort((one, other) => other.series.length - one.series.length);
    if (first === undefined)
      complain(here, `No current goes through \`${along}\` while one thing or nothing is pressed.`);
    else here.out(waySvg(first, profile));
    return first === undefined ? 2 : 0;
  }
  const run = howFar ?? '';
  const reach = reachOf(analysis, record.budget(), run);
  if (reach === undefined) complain(here, `\`${run}\` is no run that feeds a device with a least voltage.`);
  else here.out(reachSvg(reach, profile));
  return reach === undefined ? 2 : 0;
}
