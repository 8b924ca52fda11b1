// Findings on installations made by hand: precedence, acceptance, order, held circuits, fixes.
import { describe, expect, test } from 'vitest';
import { analyse, applyChanges, fixesFor, type Installation, runChecks } from '../../src/index.js';
import { AWG18, cable, conductor, device, jumper, metres, output, plainBell, run, supply } from '../builder.js';

const findings = (record: Installation) => runChecks(analyse(record));
const codes = (record: Installation, ...severities: readonly string[]) =>
  findings(record)
    .filter(({ severity }) => severities.length === 0 || severities.includes(severity))
    .map(({ code }) => code);

const withBypass = (record: Installation): Installation => ({
  ...record,
  jumpers: [jumper('chime-bypass', 'hall-chime.trans', 'hall-chime.front')],
});

function doorbell(length: number, awg: number, voltAmperes: number): Installation {
  const bell = plainBell();
  return withBypass({
    ...bell,
    supplies: [supply('bell-tx', 'bell-transformer', output(16, voltAmperes))],
    devices: [device('hall-chime', 'two-note-chime'), device('porch-cam', 'video-doorbell', { ring: 'none' })],
    runs: [
      bell.runs[0]!,
      run('tx-to-porch', {
        ...metres(length),
        cable: cable({ kind: 'awg', awg }),
        conductors: [conductor('red', 'bell-tx.b', 'porch-cam.a'), conductor('white', 'joist-joint', 'porch-cam.b')],
      }),
    ],
  });
}

describe('runChecks', () => {
  test('a plain bell is clean', () => {
    expect(findings(plainBell())).toEqual([]);
  });

  test('the same findings in whatever order the record is written', () => {
    const record = doorbell(100, 24, 10);
    const turned: Installation = {
      ...record,
      devices: [...record.devices].reverse(),
      runs: [...record.runs].reverse(),
    };
    expect(findings(turned)).toEqual(findings(record));
  });

  test('a held circuit is silent', () => {
    const record = { ...withBypass(plainBell()), broken: new Set(['tx-to-hall']) };
    expect(findings(record)).toEqual([]);
  });

  test('a run without a length: the volts are not judged and that is said once; the short still is', () => {
    const record = withBypass(plainBell());
    const [hall, porch] = record.runs;
    const unmeasured = { ...record, runs: [hall!, run('tx-to-porch', { conductors: porch!.conductors })] };
    expect(codes(unmeasured).sort()).toEqual(['short-record', 'supply-shorted']);
  });

  test('thin wire to a doorbell is one error, on the cable, with the gauge that holds', () => {
    const [error, ...others] = findings(doorbell(100, 20, 30)).filter(({ severity }) => severity === 'error');
    expect(others).toEqual([]);
    expect(error).toMatchObject({ code: 'device-undervoltage', path: 'run/tx-to-porch/cable' });
    expect(error?.message).toContain('20 AWG, 100 m');
    expect(error?.message).toContain('18 AWG would leave 15.4 V');
  });
});

describe('accept', () => {
  const accepting = (code: string, on?: string): Installation => ({
    ...doorbell(12, 18, 30),
    accepts: [{ code, because: 'agreed', ...(on === undefined ? {} : { on }) }],
  });

  test('marks what it accepts', () => {
    const found = findings(accepting('chime-silenced', 'hall-chime'));
    expect(found.filter(({ accepted }) => accepted !== undefined).map(({ code }) => code)).toEqual(['chime-silenced']);
  });

  test('of something else is unused', () => {
    expect(codes(accepting('chime-silenced', 'porch-cam'), 'warning')).toEqual(['accept-unused']);
  });

  test('of a danger is an error, and the danger stays', () => {
    const record = { ...withBypass(plainBell()), accepts: [{ code: 'supply-shorted', because: 'hardly used' }] };
    const found = findings(record);
    expect(found.map(({ code }) => code)).toEqual(['accept-forbidden', 'supply-shorted']);
    expect(found.every(({ accepted }) => accepted === undefined)).toBe(true);
  });
});

describe('fixesFor', () => {
  const fixed = (record: Installation, code: string) => {
    const analysis = analyse(record);
    const finding = runChecks(analysis).find((one) => one.code === code)!;
    return fixesFor(analysis, finding).map((fix) => ({ fix, after: applyChanges(record, fix.changes) }));
  };

  test('takes out a bypass that shorts the supply', () => {
    const [only, ...others] = fixed(withBypass(plainBell()), 'supply-shorted');
    expect(others).toEqual([]);
    expect(only?.fix.changes).toEqual([{ kind: 'remove-jumper', jumper: 'chime-bypass' }]);
    expect(findings(only!.after)).toEqual([]);
  });

  test('offers the gauge that holds, not the next one', () => {
    const [first] = fixed(doorbell(100, 24, 30), 'load-collapses');
    expect(first?.fix.changes).toEqual([{ kind: 'set-cable', run: 'tx-to-porch', size: AWG18 }]);
    expect(codes(first!.after, 'error', 'warning')).toEqual([]);
  });

  test('lands a conductor that is needed where something is empty, and offers no cap', () => {
    const bell = plainBell();
    const [hall, porch] = bell.runs;
    const [red, white] = porch!.conductors;
    const record = { ...bell, runs: [hall!, { ...porch!, conductors: [red!, { ...white!, to: undefined }] }] };
    expect(codes(record, 'error')).toEqual(['conductor-one-end']);
    const [land, ...others] = fixed(record, 'conductor-one-end');
    expect(others).toEqual([]);
    expect(land?.fix.title).toBe('Land white of `tx-to-porch` on `porch-button.b`');
    expect(land?.after).toEqual(bell);
  });

  test('of a size up names a supply that the labels are content with', () => {
    const record = doorbell(12, 18, 5);
    const [first] = fixed(record, 'supply-too-small');
    expect(first?.fix.changes).toEqual([{ kind: 'set-output', part: 'bell-tx', volts: 16, voltAmperes: 10 }]);
    expect(codes(first!.after, 'error', 'warning')).toEqual([]);
  });
});
