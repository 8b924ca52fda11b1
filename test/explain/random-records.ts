/** Records of homes as they come: one supply, one or two sounders, one to three pushes or a doorbell, joints where cables meet. */

import type { Draws } from './draws.js';

const SUPPLIES = ['16 V AC, 10 VA', '16 V AC, 15 VA', '16 V AC, 20 VA', '16 V AC, 30 VA', '24 V AC, 20 VA'];
const PUSHES = ['push-button', 'push-button', 'lit-push-button', 'led-push-button'];
const DOORS = ['porch', 'yard', 'gate'];

/** As text; what is drawn says itself. */
export function randomRecord(draws: Draws, number: number): string {
  const output = draws.pick(SUPPLIES);
  const volts = output.startsWith('24') ? 24 : 16;
  const doors = DOORS.slice(0, 1 + Math.floor(draws.next() * 3));
  const lines = [`wiring "Any house ${number}"`, 'profile north-america', 'place basement', 'place hall'];
  for (const door of doors) lines.push(`place ${door} { outdoor }`);
  const isStated = draws.next() < 0.4;
  const noLoad = `    no-load ${(volts * draws.between(1.15, 1.3)).toFixed(1)} V\n`;
  lines.push(`supply bell-tx : bell-transformer in basement {\n    output ${output}\n${isStated ? noLoad : ''}}`);
  const length = (): string => `${draws.next() < 0.5 ? 'about ' : ''}${Math.round(draws.between(3, 25))} m`;
  const size = draws.pick(['18', '18', '20', '22']);
  const isDoorbell = draws.next() < 0.2;
  const kind = isDoorbell || draws.next() < 0.75 ? 'mechanical' : draws.pick(['electronic', 'buzzers']);
  if (isDoorbell) return [...lines, ...doorbell(draws, volts, size, length)].join('\n');
  if (kind === 'buzzers') return [...lines, ...buzzers(draws, volts, size, length, doors)].join('\n');
  const type = kind === 'electronic' ? 'electronic-chime' : doors.length === 1 ? 'one-note-chime' : 'two-note-chime';
  const rating = kind === 'electronic' ? '' : ` {\n    rating ${volts} V AC, 10 VA\n}`;
  lines.push(`device hall-chime : ${type} in hall${rating}`);
  // With a filament an electronic chime is fed at rest: no such house.
  const pushes = kind === 'electronic' ? ['push-button'] : PUSHES;
  for (const door of doors) lines.push(`device ${door}-button : ${draws.pick(pushes)} in ${door}`);
  const conductors = ['red', 'white', 'green'];
  const notes = doors.map((_, k) => (k === 1 ? 'rear' : 'front'));
  lines.push('splice hot-joint in basement');
  const used = [...new Set(notes)];
  for (const note of used) lines.push(`splice ${note}-joint in basement`);
  lines.push(`run tx-to-hall : ${size}/${used.length + 1} from basement to hall, ${length()} {`);
  lines.push('    red  bell-tx.a  to  hall-chime.trans');
  for (const [k, note] of used.entries()) lines.push(`    ${conductors[k + 1]}  ${note}-joint  to  hall-chime.${note}`);
  lines.push('}', 'pigtail bell-tx.b to hot-joint');
  doors.forEach((door, k) => {
    lines.push(`run tx-to-${door} : ${draws.pick(['18', '20'])}/2 from basement to ${door}, ${length()} {`);
    lines.push(`    red  hot-joint  to  ${door}-button.a`, `    white  ${notes[k]}-joint  to  ${door}-button.b`, '}');
  });
  return lines.join('\n');
}

/** Each door with a buzzer of its own beside the others in the hall. */
function buzzers(draws: Draws, volts: number, size: string, length: () => string, doors: readonly string[]): string[] {
  const lines = ['splice hot-joint in basement', 'pigtail bell-tx.b to hot-joint'];
  for (const door of doors) {
    lines.push(`device ${door}-buzzer : buzzer in hall {\n    rating ${volts} V AC, ${draws.pick([4, 5])} VA\n}`);
    lines.push(`device ${door}-button : ${draws.pick(PUSHES)} in ${door}`, `splice ${door}-joint in basement`);
    lines.push(`run tx-to-${door}-buzzer : ${size}/2 from basement to hall, ${length()} {`);
    lines.push(`    red  bell-tx.a  to  ${door}-buzzer.a`, `    white  ${door}-joint  to  ${door}-buzzer.b`, '}');
    lines.push(`run tx-to-${door} : ${size}/2 from basement to ${door}, ${length()} {`);
    lines.push(`    red  hot-joint  to  ${door}-button.a`, `    white  ${door}-joint  to  ${door}-button.b`, '}');
  }
  return lines;
}

/** A doorbell with the chime bypassed, or trickle-charged through it. */
function doorbell(draws: Draws, volts: number, size: string, length: () => string): string[] {
  const isBypassed = draws.next() < 0.6;
  const type = isBypassed ? 'video-doorbell' : 'battery-doorbell';
  const rating = isBypassed ? '16..24 V AC' : '8..24 V AC';
  return [
    `device hall-chime : one-note-chime in hall {\n    rating ${volts} V AC, 10 VA\n}`,
    `device porch-cam : ${type} in porch {\n    rating ${rating}\n    ring none\n}`,
    'splice joist-joint in basement',
    `run tx-to-hall : ${size}/2 from basement to hall, ${length()} {`,
    '    red  bell-tx.a  to  hall-chime.trans',
    '    white  joist-joint  to  hall-chime.front',
    '}',
    `run tx-to-porch : 18/2 from basement to porch, ${length()} {`,
    '    red  bell-tx.b  to  porch-cam.a',
    '    white  joist-joint  to  porch-cam.b',
    '}',
    ...(isBypassed ? ['jumper chime-bypass : hall-chime.trans to hall-chime.front'] : []),
  ];
}
