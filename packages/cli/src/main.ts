/** The command `ohmstead`, wherever it is run. */
import manifest from '../package.json' with { type: 'json' };
import { regionTable } from '@ohmstead/record';
import { paperNames } from '@ohmstead/views';
import { Command, CommanderError, InvalidArgumentError, Option } from 'commander';
import { budget } from './budget.js';
import { check } from './check.js';
import { draw } from './draw.js';
import { compare } from './compare.js';
import { flatten } from './flatten.js';
import { explain } from './explain.js';
import { format } from './format.js';
import { lines } from './lines.js';
import { probePoints } from './probe.js';
import { severities } from './report.js';
import { sheets } from './sheets.js';
import type { Surroundings } from './surroundings.js';

/** 0 clean, 1 findings at or above `--fail-on`, 2 could not run. */
export type ExitStatus = 0 | 1 | 2;

const profiles = Object.keys(regionTable);

const cautions = `
Figures are computed from what the record says, not measured. Isolate the supply and prove it dead before you touch a wire; work on
the mains side follows local code, and where you are in doubt it is a licensed electrician's.

Exit status: 0 clean, 1 findings at or above --fail-on, 2 could not run.`;

function program(here: Surroundings, done: (status: ExitStatus) => void): Command {
  const ohmstead = new Command('ohmstead')
    .description('Checks records of low-voltage wiring in homes with a circuit solver.')
    .version(manifest.version)
    .addHelpText('after', cautions)
    .showHelpAfterError('(ohmstead --help lists the commands)')
    .configureOutput({ writeOut: (text) => here.out(text), writeErr: (text) => here.err(text) })
    .exitOverride();

  ohmstead
    .command('check')
    .description('all findings of records; directories are walked')
    .argument('<path...>', '.wiring files, or directories that hold them')
    .addOption(
      new Option(
        '--format <format>',
        'how they are printed: sarif for code scanning, github as notes on a pull request',
      )
        .choices(['text', 'json', 'sarif', 'github'])
        .default('text'),
    )
    .addOption(
      new Option('--fail-on <severity>', 'the least severity that gives exit status 1')
        .choices(severities)
        .default('error'),
    )
    .option(
      '--against <old>',
      'only what an earlier record had not: a file, git:REVISION:PATH, or git:REVISION for all',
    )
    .addOption(new Option('--profile <name>', "judged by this profile in place of the records' own").choices(profiles))
    .action((paths: string[], options) => done(check(here, paths, options)));

  ohmstead
    .command('budget')
    .description('the load budget of a record and its figures in every condition')
    .argument('<file>', 'a .wiring file')
    .addOption(
      new Option('--format <format>', 'how it is printed').choices(['text', 'json', 'md', 'html']).default('text'),
    )
    .action((file: string, options) => done(budget(here, file, options)));

  ohmstead
    .command('probe')
    .description('what a meter should show between two points, in every condition')
    .argument('<file>', 'a .wiring file')
    .argument('<point>', 'a terminal such as hall-chime.trans, or a splice', pointName)
    .argument('<point>', 'the other one', pointName)
    .option('--ohms', 'ohms with the supplies isolated, in place of volts')
    .addOption(new Option('--format <format>', 'how it is printed').choices(['text', 'json']).default('text'))
    .action((file: string, from: string, to: string, options) => done(probePoints(here, file, from, to, options)));

  ohmstead
    .command('sheets')
    .description(
      "the installer's papers: work order of a plan, terminations, cut list, materials, test sheet, labels, cautions",
    )
    .argument('<file>', 'a .wiring file')
    .addOption(new Option('--format <format>', 'how they are printed').choices(['md', 'html', 'csv']).default('md'))
    .addOption(new Option('--only <name...>', 'these papers alone; CSV holds one').choices(paperNames))
    .option('--from <record>', 'what stands now, for the work order: a file or git:REV:PATH; a plan knows its own')
    .option('--date <date>', 'as it is to be printed; left to be written otherwise')
    .option('--by <name>', 'who made them; left to be written otherwise')
    .addOption(new Option('--as <condition>', 'as found, or as left').choices(['found', 'left']))
    .addOption(new Option('--sheet <size>', 'what HTML is printed on').choices(['a4', 'letter']))
    .option('--allowance <per cent>', 'what is cut beyond the length of a run, besides the ends', perCent)
    .option('--no-address', 'leaves out the title, which has the address, notes and photos')
    .action((file: string, options) => done(sheets(here, file, options)));

  ohmstead
    .command('compare')
    .description('what changed in the wiring, and what that does to the figures')
    .argument(
      '<old>',
      'a .wiring file, or git:REVISION:PATH; alone: a plan, or a file to be compared with its last commit',
    )
    .argument('[new]', 'the other one')
    .addOption(
      new Option('--format <format>', 'how it is printed').choices(['text', 'json', 'md', 'html']).default('text'),
    )
    .addOption(
      new Option('--fail-on <severity>', 'the least severity of a new finding that gives exit status 1')
        .choices(severities)
        .default('error'),
    )
    .addOption(
      new Option('--profile <name>', 'in place of a second file: what this profile would change').choices(profiles),
    )
    .option(
      '--work-order',
      'the work that leads from one to the other and back, step by step, with the readings to expect',
    )
    .action((before: string, after: string | undefined, options) => done(compare(here, before, after, options)));

  ohmstead
    .command('explain')
    .description(
      'from the readings in a record: which faults fit, best first, which are excluded, and what to measure next',
    )
    .argument('<file>', 'a .wiring file')
    .addOption(new Option('--format <format>', 'how it is printed').choices(['text', 'json', 'md']).default('text'))
    .option(
      '--recent-work',
      'something was worked on since it was last right: swapped ends and settings count for more',
    )
    .option('--all', 'every block of readings, in place of those of the latest date')
    .action((file: string, options) => done(explain(here, file, options)));

  ohmstead
    .command('draw')
    .description('the circuit drawing of a record as SVG')
    .argument('<file>', 'a .wiring file')
    .option('--state <contact...>', 'drawn with these closed, such as porch-button; at rest otherwise')
    .option('--peak', 'with loads at their peak')
    .option('--circuit <name>', 'the circuit of this part, run or splice alone')
    .addOption(
      new Option('--along <device>', 'in its place a plot of the volts along the way to a device and back').conflicts(
        'howFar',
      ),
    )
    .option('--how-far <run>', 'in its place a plot of what is left for a device if this run were longer, by gauge')
    .action(async (file: string, options) => done(await draw(here, file, options)));

  ohmstead
    .command('flatten')
    .description('a rewire plan as the full record that it results in; comments stay')
    .argument('<plan>', 'a .wiring file that changes another')
    .option('--output <file>', 'written to a new file in place of standard output')
    .action((plan: string, options) => done(flatten(here, plan, options)));

  ohmstead
    .command('lines')
    .description('a record as lines that stay the same under reordering and reformatting, for git diff')
    .argument('<file>', 'a .wiring file')
    .action((file: string) => done(lines(here, file)));

  ohmstead
    .command('format')
    .description('lays records out in columns, in place; comments and order stay')
    .argument('<path...>', '.wiring files, or directories that hold them')
    .option('--check', 'only say which would change; exit status 1 if any would')
    .action((paths: string[], options) => done(format(here, paths, options)));

  ohmstead
    .command('serve')
    .description('the language server on standard input and output, for any editor')
    .allowExcessArguments(true)
    .allowUnknownOption(true)
    .action(async () => {
      const { serve } = await import('@ohmstead/language/serve');
      serve();
    });

  return ohmstead;
}

function pointName(value: string): string {
  if (value.trim() === '')
    throw new InvalidArgumentError('A point is a terminal such as hall-chime.trans, or a splice.');
  return value.trim();
}

function perCent(value: string): number {
  const share = Number(value.replace(/\s*%$/, ''));
  if (value.trim() === '' || !(share >= 0 && share <= 100))
    throw new InvalidArgumentError('Per cent are from 0 to 100.');
  return share;
}

/** Runs one command; `args` are those after the command's own name. A fault of this program itself is thrown. */
export async function main(args: readonly string[], here: Surroundings): Promise<ExitStatus> {
  let status: ExitStatus = 0;
  const ohmstead = program(here, (found) => {
    status = found;
  });
  try {
    await ohmstead.parseAsync(args, { from: 'user' });
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    return error.exitCode === 0 ? 0 : 2;
  }
  return status;
}
