/** Records of a given number of lines: street after street of doorbell circuits, none of which touches another. */

/** @returns {string} a record of about `lines` lines */
export function recordOf(lines) {
  const text = ['// Every door of the row, as found.', 'wiring "Quarry Row, all doors"', ''];
  for (let house = 1; text.length < lines - LINES_OF_A_HOUSE / 2; house++) text.push(...houseOf(house));
  return `${text.join('\n')}\n`;
}

const LINES_OF_A_HOUSE = 32;

function houseOf(number) {
  const name = (word) => `h${number}-${word}`;
  const doorbell = number % 3 === 0;
  const metres = 8 + (number % 7);
  return [
    `place ${name('cellar')}`,
    `place ${name('hall')}`,
    `place ${name('porch')} { outdoor }`,
    '',
    `supply ${name('tx')} : bell-transformer in ${name('cellar')} {`,
    doorbell ? '    output 16 V AC, 30 VA' : '    output 16 V AC, 10 VA',
    doorbell ? '    no-load 18.6 V' : '    no-load 19.8 V',
    '    accepts 20 AWG or thicker',
    '}',
    '',
    `device ${name('chime')} : two-note-chime in ${name('hall')} {`,
    '    rating 16 V AC, 10 VA',
    '}',
    '',
    ...(doorbell
      ? [
          `device ${name('cam')} : video-doorbell in ${name('porch')} {`,
          '    needs supply 20 VA or more',
          '    ring none',
          '}',
        ]
      : [`device ${name('cam')} : push-button in ${name('porch')} {`, '    note "Brass, the old one."', '}']),
    '',
    `splice ${name('joint')} in ${name('cellar')}`,
    '',
    `run ${name('up')} : 18/2 from ${name('cellar')} to ${name('hall')}, ${metres} m {`,
    `    red    ${name('tx')}.a     to  ${name('chime')}.trans`,
    `    white  ${name('joint')}  to  ${name('chime')}.front`,
    '}',
    `run ${name('out')} : 18/2 from ${name('cellar')} to ${name('porch')}, ${metres + 4} m {`,
    `    red    ${name('tx')}.b     to  ${name('cam')}.a`,
    `    white  ${name('joint')}  to  ${name('cam')}.b`,
    '}',
    ...(doorbell ? [`jumper ${name('bypass')} : ${name('chime')}.trans to ${name('chime')}.front`] : []),
    '',
  ];
}

/** What a technician types into such a record: one character of a run's length, there and back, in a house of the middle. */
export function keystrokes(text, count) {
  const at = text.indexOf(' m {', Math.floor(text.length / 2));
  if (at < 0) throw new Error('no length found to type into');
  const edits = [];
  for (let index = 0; index < count; index++) {
    edits.push(index % 2 === 0 ? { start: at, end: at, text: '5' } : { start: at, end: at + 1, text: '' });
  }
  return edits;
}
