import type { ExitStatus } from './main.js';
import { complain, openRecord } from './open.js';

export interface DrawCommandOptions {
  readonly state?: string[];
  readonly peak?: boolean;
  readonly circuit?: string;
}

/** Prints the circuit drawing. */
export async function draw(file: string, options: DrawCommandOptions): Promise<ExitStatus> {
  const opened = openRecord(file);
  if (!opened) return 2;
  const { record } = opened;
  // The layout is by far the largest thing in the command: only who draws pays for it.
  const { contactNames, drawCircuit } = await import('@ohmstead/views/drawing');
  const contacts = contactNames(record.analysis);
  const wrong = options.state?.find((name) => !contacts.includes(name));
  if (wrong !== undefined) {
    const known = contacts.length === 0 ? 'The record has none.' : `There are ${contacts.join(', ')}.`;
    complain(`Nothing called \`${wrong}\` can be pressed or closed. ${known}`);
    return 2;
  }
  if (options.circuit !== undefined && !hasName(options.circuit)) {
    complain(`No circuit has a part, run or splice called \`${options.circuit}\`.`);
    return 2;
  }
  const svg = await drawCircuit(record.analysis, {
    closed: options.state ?? [],
    loads: options.peak === true ? 'peak' : 'idle',
    circuitOf: options.circuit,
    findings: record.findings,
  });
  process.stdout.write(svg);
  return 0;

  function hasName(name: string): boolean {
    return record.analysis.circuits.some(({ supplies, devices, runs, circuit }) =>
      [...supplies, ...devices, ...runs, ...circuit.points].includes(name),
    );
  }
}
