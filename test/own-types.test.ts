// The guide to types of one's own is real: each of its types is read, wired up and solved as it stands there.
import { readFileSync } from 'node:fs';
import { checkRecord, parseWiring, readRecord } from '@ohmstead/language';
import { budgetOf } from '@ohmstead/record';
import { describe, expect, test } from 'vitest';

const guide = readFileSync(new URL('../packages/language/OWN-TYPES.md', import.meta.url), 'utf8');
const types = [...guide.matchAll(/^```wiring\n([\s\S]*?)^```$/gm)].map((match) => match[1]!);

function solved(type: string, record: string) {
  const checked = checkRecord(readRecord(parseWiring('file:///w/record.wiring', `${type}\n${record}`)));
  return { codes: checked.findings.map(({ code }) => code), budget: budgetOf(checked.analysis, []) };
}

describe("the guide to types of one's own", () => {
  test('has three types, each read without a finding', () => {
    expect(types).toHaveLength(3);
    for (const type of types) expect(readRecord(parseWiring('file:///w/our-parts.wiring', type)).findings).toEqual([]);
  });

  test('its gong strikes from 11 V', () => {
    const { budget, codes } = solved(
      types[0]!,
      'supply tx : bell-transformer { output 16 V AC, 15 VA }\ndevice gong : hall-gong\ndevice push : push-button\n' +
        'jumper tx.a to gong.common\njumper gong.front to push.a\njumper push.b to tx.b\n',
    );
    expect(codes.filter((code) => code.startsWith('chime'))).toEqual([]);
    const [coil] = budget.devices.find(({ name }) => name === 'gong')!.elements;
    // 0.75 A at 16 V is 12 VA, 21.3 ohm.
    const pressed = coil!.solved.find(({ closed }) => closed.includes('push'))!;
    expect(pressed.volts! / pressed.amps!).toBeCloseTo(16 / 0.75, 1);
  });

  test('its camera cuts out on long thin wire, and works on thick', () => {
    const record = (size: string) =>
      `supply adaptor : dc-adaptor { output 12 V DC, 2 A }\ndevice cam : yard-camera\nrun to-cam : ${size}, 60 m {\n` +
      '    red adaptor.plus to cam.plus\n    white adaptor.minus to cam.minus\n}\n';
    expect(solved(types[1]!, record('22/2')).codes).toContain('load-collapses');
    expect(solved(types[1]!, record('10/2')).codes).not.toContain('load-collapses');
  });

  test('its contactor is judged while it pulls in', () => {
    const record = (length: string) =>
      'supply tx : control-transformer { output 24 V AC, 40 VA }\ndevice stat : thermostat\ndevice k : big-contactor\n' +
      `jumper tx.r to stat.r\nrun to-k : 20/2, ${length} {\n    red stat.y to k.a\n    white tx.c to k.b\n}\n`;
    expect(solved(types[2]!, record('100 ft')).codes).not.toContain('coil-never-pulls-in');
    expect(solved(types[2]!, record('200 ft')).codes).toContain('coil-never-pulls-in');
  });
});
