/** Changes of a record carried out on its data, so that what they would do can be computed. */

import type { ApplyChanges, RecordChange } from '../finding.js';
import type { Conductor, Installation, Landing, Part, Run } from '../model.js';

/** Unknown names leave the record as it is. What was measured on a supply no longer holds once its output is another. */
export const applyChanges: ApplyChanges = (installation, changes) => changes.reduce(applyChange, installation);

function applyChange(installation: Installation, change: RecordChange): Installation {
  switch (change.kind) {
    case 'set-output':
      return {
        ...installation,
        supplies: installation.supplies.map((part) => (part.name === change.part ? withOutput(part, change) : part)),
      };
    case 'set-cable':
      return changeRun(installation, change.run, (run) =>
        run.cable === undefined ? run : { ...run, cable: { ...run.cable, size: change.size, ohmsPerMetre: undefined } },
      );
    case 'add-jumper': {
      const { name, from, to } = change;
      const jumper = { name, named: true, kind: 'jumper', from, to } as const;
      return { ...installation, jumpers: [...installation.jumpers, jumper] };
    }
    case 'remove-jumper':
      return { ...installation, jumpers: installation.jumpers.filter(({ name }) => name !== change.jumper) };
    case 'land':
      return changeConductor(installation, change, (conductor) => ({
        ...conductor,
        [change.end]: { kind: 'on', end: change.on } satisfies Landing,
      }));
    case 'cap':
      return changeConductor(installation, change, (conductor) => ({
        ...conductor,
        [change.end]: { kind: 'capped' } satisfies Landing,
      }));
    case 'set-colour':
      return changeConductor(installation, change, (conductor) => ({ ...conductor, colour: change.colour }));
    case 'remove-conductor':
      return changeRun(installation, change.run, (run) => ({
        ...run,
        conductors: run.conductors.filter((_, index) => index !== change.conductor),
      }));
    case 'add-conductor': {
      const [from, to] = [change.from, change.to].map((end): Landing => ({ kind: 'on', end }));
      const conductor = { colour: change.colour, from: from!, to: to!, spare: false };
      return changeRun(installation, change.run, (run) => ({ ...run, conductors: [...run.conductors, conductor] }));
    }
    case 'set-breaker':
      return changePart(installation, change.part, (part) => ({
        ...part,
        facts: { ...part.facts, breakerAmps: change.amps },
      }));
    case 'set-battery':
      return changePart(installation, change.part, (part) => ({
        ...part,
        facts: { ...part.facts, batteryAmpereHours: change.ampereHours },
      }));
    case 'add-ground': {
      const ground = { end: change.from, box: change.box };
      return { ...installation, grounds: [...(installation.grounds ?? []), ground] };
    }
    case 'set-lead': {
      const { terminal, on } = change;
      return changePart(installation, change.part, (part) => ({
        ...part,
        lands: [...part.lands.filter((lead) => lead.terminal !== terminal), { terminal, on }],
      }));
    }
    case 'set-place':
      return {
        ...installation,
        splices: installation.splices.map((splice) =>
          splice.name === change.splice ? { ...splice, place: change.place } : splice,
        ),
      };
  }
}

function withOutput(
  part: Part,
  { volts, voltAmperes }: { readonly volts: number; readonly voltAmperes: number },
): Part {
  const { noLoadVolts: _noLoad, measuredOpenVolts: _open, measuredLoaded: _loaded, ...facts } = part.facts;
  const [first] = facts.outputs;
  const output = { ...first, volts, voltAmperes, amps: undefined };
  return { ...part, facts: { ...facts, outputs: [output, ...facts.outputs.slice(1)] } };
}

function changePart(installation: Installation, name: string, change: (part: Part) => Part): Installation {
  const changed = (part: Part) => (part.name === name ? change(part) : part);
  return {
    ...installation,
    supplies: installation.supplies.map(changed),
    devices: installation.devices.map(changed),
  };
}

function changeRun(installation: Installation, name: string, change: (run: Run) => Run): Installation {
  return { ...installation, runs: installation.runs.map((run) => (run.name === name ? change(run) : run)) };
}

function changeConductor(
  installation: Installation,
  where: { readonly run: string; readonly conductor: number },
  change: (conductor: Conductor) => Conductor,
): Installation {
  return changeRun(installation, where.run, (run) => ({
    ...run,
    conductors: run.conductors.map((conductor, index) => (index === where.conductor ? change(conductor) : conductor)),
  }));
}
