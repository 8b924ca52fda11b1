import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { library } from '../../src/library.js';
import { readLibrary, typesOfLibrary } from '../../src/read-library.js';
import { libraryPage } from '../../src/library-page.js';
import { parseWiring } from '../../src/reading/document.js';
import { readRecord } from '../../src/read.js';

describe('the shipped type library', () => {
  it('reads without a finding', () => {
    expect(readLibrary().findings).toEqual([]);
    expect(readLibrary().documents.flatMap((document) => document.problems)).toEqual([]);
  });

  it('has its types as data as its text says them', () => {
    const { parts, cables, names } = typesOfLibrary();
    const { partTypes, cableTypes, names: index } = library();
    expect([...partTypes.values()]).toStrictEqual(parts);
    expect([...cableTypes.values()]).toStrictEqual(cables);
    expect([...index.names('type')].map(({ name }) => name)).toEqual(names);
    const read = readLibrary().names;
    for (const { name, kind, shipped, declarations } of read.names('type')) {
      expect(index.find('type', name)).toMatchObject({ kind, shipped, declarations });
      const terminals = [...(read.terminalsOf(name)?.values() ?? [])];
      const told = ({ kind, name, owner, shipped, declarations }: (typeof terminals)[number]) =>
        [kind, name, owner, shipped, declarations] as const;
      expect([...(index.terminalsOf(name)?.values() ?? [])].map(told)).toEqual(terminals.map(told));
    }
  });

  it('has the types that records of bell circuits need', () => {
    const supplies = ['bell-transformer', 'plug-in-transformer', 'lead-wire-transformer', 'dc-adaptor'];
    const devices = [
      'push-button',
      'lit-push-button',
      'led-push-button',
      'two-note-chime',
      'one-note-chime',
      'electronic-chime',
      'diode-kit',
      'buzzer',
      'video-doorbell',
      'battery-doorbell',
      'bypass-kit',
      'series-resistor',
      'wireless-chime',
    ];
    const { partTypes } = library();
    for (const name of supplies) expect(partTypes.get(name), name).toMatchObject({ of: 'supply', shipped: true });
    for (const name of devices) expect(partTypes.get(name), name).toMatchObject({ of: 'device', shipped: true });
    expect(library().cableTypes.get('thermostat-18-5')?.colours).toEqual(['red', 'white', 'green', 'blue', 'yellow']);
  });

  it('says of every generic figure where it comes from', () => {
    const figure = /\d\s*(V|A|VA|W|mA|k?ohm|%)\b/;
    for (const document of readLibrary().documents) {
      for (const type of document.text.split(/\n(?=(?:device|supply|cable) type )/).slice(1)) {
        if (figure.test(type))
          expect(type, `${document.uri}: ${type.slice(0, 50)}`).toMatch(
            /common practice, no source|ASTM|IEEE 802\.3|published sizing guides|makers' tables/i,
          );
      }
    }
  });

  it('draws within what is known of lit pushes, doorbells and chimes', () => {
    const element = (type: string, kind: string) =>
      library()
        .partTypes.get(type)
        ?.elements.find((one) => one.kind === kind) as never as Record<string, number>;
    const lamp = element('lit-push-button', 'lamp');
    const lampAmps = lamp['watts']! / lamp['volts']!;
    // Common practice, no source: 35 to 60 mA for a filament lamp, 1 to 10 mA for a light-emitting diode, at 16 V.
    expect(lampAmps).toBeGreaterThanOrEqual(0.035);
    expect(lampAmps).toBeLessThanOrEqual(0.06);
    const ledAmps = 16 / element('led-push-button', 'resistor')['ohms']!;
    expect(ledAmps).toBeGreaterThanOrEqual(0.001);
    expect(ledAmps).toBeLessThanOrEqual(0.01);
    expect(element('video-doorbell', 'load')).toMatchObject({
      draws: { unit: 'W', value: 3 },
      peaks: { unit: 'W', value: 8 },
    });
    expect(element('two-note-chime', 'coil')).toMatchObject({ powerFactor: 0.7, ringsFrom: 0.7, humsFrom: 0.25 });
    expect(element('buzzer', 'coil')).toMatchObject({ humsFrom: 'off' });
  });

  it('gives a transformer with three voltages its taps', () => {
    const winding = library()
      .partTypes.get('tri-volt-transformer')
      ?.elements.find((one) => one.kind === 'winding');
    expect(winding).toMatchObject({
      voltAmperes: 20,
      taps: [
        { terminal: 'common', volts: 0 },
        { terminal: 'low', volts: 8 },
        { terminal: 'middle', volts: 16 },
        { terminal: 'high', volts: 24 },
      ],
    });
  });

  it('gives way to a type of the record with the same name', () => {
    const text = 'device type push-button { terminal x, y\n contact x to y maintained\n}\ndevice p : push-button\n';
    const { installation, findings } = readRecord(parseWiring('file:///w/a.wiring', text));
    expect(findings).toEqual([]);
    expect(installation.partTypes.get('push-button')).toMatchObject({ shipped: false });
  });

  it('has a reference page that is current', () => {
    expect(readFileSync(new URL('../../LIBRARY.md', import.meta.url), 'utf8')).toBe(libraryPage());
  });
});
