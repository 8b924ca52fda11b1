// The installer's papers read again against the record that they were made from.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { checkRecord, parseWiring, readRecord } from '@ohmstead/language';
import { pointOf } from '@ohmstead/record';
import {
  colourLetters,
  cutList,
  labels,
  materials,
  type PapersOptions,
  paperCsv,
  paperNames,
  papersHtml,
  papersMarkdown,
  papersOf,
  terminationRows,
  testRows,
} from '@ohmstead/views';
import { describe, expect, test } from 'vitest';

const root = new URL('../../../', import.meta.url).pathname;
const examples = readdirSync(join(root, 'examples')).filter((name) => name.endsWith('.wiring'));
const example = (name: string) => readFileSync(join(root, 'examples', name), 'utf8');
const checked = (text: string) => checkRecord(readRecord(parseWiring('file:///records/any.wiring', text)));
const papers = (text: string, options: PapersOptions = {}) => {
  const record = checked(text);
  return papersOf(record.analysis, record.budget(), { findings: record.findings, ...options });
};

/** A record with everything in it that a name can do to a table, a page or a spreadsheet, and every way for an end to hang loose. */
const loose = `wiring "A <b>bold</b> | title\\"
place cellar "Cellar | <i>north</i>"
place porch
supply tx : bell-transformer in cellar {
    output 16 V AC, 10 VA
    label "=1+1 <script>alert(1)</script>"
    note "behind 4 Elm Way"
}
device chime : two-note-chime in cellar
device button : push-button in porch
splice joint in cellar
run cable : 18/5 from cellar to porch, 12 m {
    red     joint        to  button.a
    white   chime.front  to  button.b
    green   joint        to  capped
    blue    spare
}
run feed : 18/2 in cellar
run link : 18-2 from cellar to cellar, 2 m {
    red     tx.b         to  joint
    white   tx.a         to  chime.trans
}
pigtail tx.b to joint
`;

test('snapshot: a record and all its papers', async () => {
  const source = example('as-found-bell.wiring');
  const made = papersMarkdown(papers(source, { date: '2026-11-25', by: 'R. Fitter', condition: 'as found' }));
  await expect(`${source}\n${'='.repeat(80)}\n\n${made}`).toMatchFileSnapshot(
    join(root, 'packages/cli/test/papers/as-found-bell.txt'),
  );
});

describe.each([...examples.map((name) => [name, example(name)] as const), ['loose ends', loose] as const])(
  '%s',
  (_name, text) => {
    const { analysis } = checked(text);

    test('has each end of each conductor in the termination schedule exactly once', () => {
      const stated = [...analysis.runs.values()].flatMap(({ run }) =>
        run.conductors.flatMap((conductor) =>
          (['from', 'to'] as const).map((side) => `${run.name} ${conductor.colour} ${side}`),
        ),
      );
      const rows = terminationRows(analysis).flatMap(({ end }) => (end === undefined ? [] : [end]));
      const seen = rows.map((end) => `${end.run.name} ${end.colour} ${end.side}`);
      expect(new Set(seen).size).toBe(seen.length);
      expect(stated.length).toBeGreaterThan(0);
      expect(stated.filter((each) => !seen.includes(each))).toEqual([]);
      const cores = [...analysis.runs.values()].reduce((sum, { cable }) => sum + (cable?.colours.length ?? 0), 0);
      expect(seen).toHaveLength(2 * cores);
    });

    test('puts each landed end at the screw that the record says, with its other end', () => {
      const rows = terminationRows(analysis);
      let landed = 0;
      for (const { run } of analysis.runs.values()) {
        for (const { colour, from, to } of run.conductors) {
          for (const [here, there, side] of [
            [from, to, 'from'],
            [to, from, 'to'],
          ] as const) {
            if (here?.kind !== 'on') continue;
            landed++;
            const row = rows.find(({ end }) => end?.run === run && end.colour === colour && end.side === side)!;
            const terminal = analysis.parts
              .get(here.end.part)
              ?.terminals.find(({ name }) => name === here.end.terminal);
            expect([row.part, row.screw]).toEqual([here.end.part, terminal?.words ?? here.end.terminal ?? '']);
            if (there?.kind === 'on') expect(row.otherEnd).toContain(there.end.part);
            else expect(row.otherEnd).toBe(there?.kind === 'unknown' ? 'not known' : 'capped');
          }
        }
      }
      expect(landed).toBeGreaterThan(3);
    });

    test('names every screw of every part', () => {
      const rows = terminationRows(analysis);
      for (const { name, terminals } of analysis.parts.values()) {
        for (const terminal of terminals) {
          const screw = terminal.words ?? terminal.name;
          expect(
            rows.some((row) => row.part === name && row.screw === screw),
            `${name}.${terminal.name}`,
          ).toBe(true);
        }
      }
    });

    test('has a cut list that adds up to its runs, all of which come out of the reels', () => {
      const cables = cutList(analysis, { share: 0.1, eachEndMetres: 0.3 });
      const rows = cables.flatMap((cable) => cable.rows);
      expect(rows.map(({ run }) => run).sort()).toEqual([...analysis.runs.keys()].sort());
      for (const { run, lengthMetres, cutMetres } of rows) {
        expect(lengthMetres).toBe(analysis.runs.get(run)!.lengthMetres);
        if (lengthMetres === undefined) continue;
        expect(cutMetres! - (lengthMetres * 1.1 + 0.6)).toBeGreaterThan(-1e-6);
        expect(cutMetres! - (lengthMetres * 1.1 + 0.6)).toBeLessThan(0.1525);
      }
      for (const cable of cables) {
        const cut = cable.rows.reduce((sum, each) => sum + (each.cutMetres ?? 0), 0);
        expect(cable.cutMetres).toBeCloseTo(cut, 9);
        const measured = cable.rows.filter((each) => each.cutMetres !== undefined).map(({ run }) => run);
        expect([...cable.reels.flatMap(({ runs }) => runs), ...cable.tooLong].sort()).toEqual(measured.sort());
        for (const { reelMetres, runs, leftMetres } of cable.reels) {
          const used = cable.rows
            .filter(({ run }) => runs.includes(run))
            .reduce((sum, each) => sum + each.cutMetres!, 0);
          expect(used + leftMetres).toBeCloseTo(reelMetres, 9);
          expect(leftMetres).toBeGreaterThanOrEqual(0);
        }
      }
    });

    test('counts every part, splice and jumper among the materials', () => {
      const all = materials(analysis);
      const count = (kind: string) =>
        all.filter((each) => each.kind === kind).reduce((sum, { quantity }) => sum + Number(quantity), 0);
      const parts = [...analysis.parts.values()];
      expect(count('supply')).toBe(parts.filter(({ kind }) => kind === 'supply').length);
      expect(count('device')).toBe(parts.filter(({ kind }) => kind === 'device').length);
      for (const splice of analysis.installation.splices) {
        expect(all.filter(({ what, of }) => what.startsWith('Connector') && of.includes(splice.name))).toHaveLength(1);
      }
      const short = all.filter(({ what }) => what === 'Jumper' || what === 'Pigtail');
      expect(short.reduce((sum, { quantity }) => sum + Number(quantity), 0)).toBe(analysis.jumpers.size);
    });

    test('has a label for both ends of every cable, for every supply and every splice', () => {
      const all = labels(analysis);
      for (const name of analysis.runs.keys()) {
        expect(all.filter(({ kind, of }) => kind === 'cable' && of === name)).toHaveLength(2);
      }
      const supplies = [...analysis.parts.values()].filter(({ kind }) => kind === 'supply');
      for (const { name, facts } of supplies) {
        const label = all.find(({ kind, of }) => kind === 'supply' && of === name)!;
        expect(label.lines).toEqual(expect.arrayContaining([...facts.labels]));
      }
      expect(all.filter(({ kind }) => kind === 'splice')).toHaveLength(analysis.installation.splices.length);
    });

    test('expects on the test sheet what the solver finds, low and high included', () => {
      const rows = testRows(analysis).filter(({ volts }) => volts !== undefined && !('reason' in volts));
      expect(rows.length).toBeGreaterThan(2);
      for (const { volts } of rows) {
        if (volts === undefined || 'reason' in volts) continue;
        expect(volts.most).toBeGreaterThanOrEqual(volts.least);
      }
      for (const circuit of analysis.circuits) {
        for (const contact of circuit.circuit.contacts) {
          for (const element of analysis.elements.values()) {
            if (element.element.kind !== 'coil' || !circuit.circuit.elements.includes(element.id)) continue;
            const nominal = circuit.at('nominal', [contact], 'idle')?.solution.between(element.a, element.b);
            if (nominal == null) continue;
            const size = Math.hypot(nominal.re, nominal.im);
            const matching = rows.filter(
              ({ section, where }) => section === 'button' && where.startsWith(`${element.part} `),
            );
            const within = matching.some(
              ({ volts }) =>
                volts !== undefined && 'least' in volts && volts.least <= size + 1e-9 && size <= volts.most + 1e-9,
            );
            expect(within, `${contact}: ${pointOf({ part: element.part, terminal: element.element.a })}`).toBe(true);
          }
        }
      }
    });

    test('vouches for nothing and carries the cautions in every form', () => {
      const made = papers(text);
      for (const form of [papersHtml(made).replace(/<style>[\s\S]*<\/style>/, ''), papersMarkdown(made)]) {
        expect(form).not.toMatch(/\b(safe|legal|compliant)\b/i);
        expect(form).not.toMatch(/\b(node|island|corner|solver)\b/i);
        expect(form.replace(/\s+/g, ' ')).toContain('isolate the supply and prove it dead');
      }
    });
  },
);

describe('what the test sheet says to listen for', () => {
  test('tells crossed buttons by the note', () => {
    const heard = testRows(checked(example('as-found-bell.wiring')).analysis).filter(({ when }) =>
      when.includes('listen'),
    );
    expect(heard.map(({ when, expected }) => [when, expected])).toEqual([
      ['At rest, listen', 'TRANS to FRONT: silent; TRANS to REAR: silent'],
      ['porch-button held, listen: once, then held', 'TRANS to FRONT: sounds; TRANS to REAR: silent'],
      ['yard-button held, listen: once, then held', 'TRANS to FRONT: silent; TRANS to REAR: sounds'],
    ]);
  });

  test('never asks for a press that shorts the supply', () => {
    const shorting = example('as-found-bell.wiring').replace(
      'white  porch-return  to  porch-button.b',
      'white  bell-tx.a  to  porch-button.b',
    );
    const rows = testRows(checked(shorting).analysis).filter(({ when }) => when.startsWith('porch-button held'));
    expect(rows.map(({ expected }) => expected)).toEqual(['do not press: it shorts the supply']);
  });
});

describe('somebody else’s words', () => {
  const made = papers(loose);

  test('become no markup', () => {
    const body = papersHtml(made).replace(/<style>[\s\S]*<\/style>/, '');
    const tags = new Set([...body.matchAll(/<\/?([a-zA-Z][\w-]*)/g)].map((match) => match[1]));
    expect(tags).not.toContain('script');
    expect(tags).not.toContain('i');
    expect(body).toContain('&lt;script&gt;');
    expect(body).not.toMatch(/\s(on\w+|style)=/);
  });

  test('keep their cells in Markdown', () => {
    const rows = papersMarkdown(made)
      .split('\n')
      .filter((line) => line.startsWith('|'));
    expect(rows.length).toBeGreaterThan(20);
    let width = 0;
    for (const [index, row] of rows.entries()) {
      const cells = row.replace(/\\./g, '').split('|').length;
      if (rows[index + 1]?.startsWith('| ---')) width = cells;
      expect(cells, row).toBe(width);
    }
    expect(papersMarkdown(made).replace(/\\[\s\S]/g, '')).not.toContain('<');
  });

  test('start no formula in a spreadsheet', () => {
    for (const paper of made.papers) {
      for (const line of paperCsv(paper)?.split('\r\n') ?? []) expect(line).not.toMatch(/(^|,)"?[=+@]/);
    }
  });
});

test('addresses, notes and photos are left out when that is asked for', () => {
  const bare = papersHtml(papers(loose, { withoutAddress: true }));
  expect(papersHtml(papers(loose))).toContain('Elm Way');
  expect(bare).not.toContain('Elm Way');
  expect(bare).not.toContain('bold');
  expect(bare).toContain('Site left out');
});

test('a paper of its own may be asked for, and a work order is the comparison’s to give', () => {
  expect(papers(loose).papers.map(({ name }) => name)).toEqual(paperNames.filter((name) => name !== 'work-order'));
  expect(papers(loose, { only: ['labels', 'cut-list'] }).papers.map(({ name }) => name)).toEqual([
    'cut-list',
    'labels',
  ]);
  const workOrder = {
    name: 'work-order',
    title: 'Work order',
    blocks: [{ kind: 'list', numbered: true, items: ['Isolate'] }],
  } as const;
  expect(papersMarkdown(papers(loose, { workOrder }))).toContain(
    '## Work order\n\n1. Isolate\n\n## Termination schedule',
  );
});

test('colours have the letters of IEC 60757', () => {
  expect(['red', 'white/red', 'green/yellow', 'blue/red', '3', 'clear'].map(colourLetters)).toEqual([
    'RD',
    'RDWH',
    'GNYE',
    'RDBU',
    undefined,
    undefined,
  ]);
});

test('a run longer than any reel is asked for in one length, and short ones share a reel', () => {
  const long = loose
    .replace('porch, 12 m', 'porch, 400 m')
    .replace('run feed : 18/2 in cellar', 'run feed : 18/2 from cellar to cellar, 20 m');
  const [two, five] = cutList(checked(long).analysis);
  expect(two!.cable).toBe('18/2');
  expect(two!.reels.map(({ runs }) => runs)).toEqual([['feed', 'link']]);
  expect(five!.tooLong).toEqual(['cable']);
  expect(five!.reels).toEqual([]);
});

test('an empty record has papers that say so', () => {
  const made = papersMarkdown(papers('wiring "Nothing yet"\n'));
  for (const words of [
    'no part with a screw yet',
    'no run yet',
    'no part yet',
    'No supply feeds anything',
    'Nothing to label',
  ]) {
    expect(made).toContain(words);
  }
});
