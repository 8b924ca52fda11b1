/** The panel's page: renders what the host sends, patches what changed, and reports what is clicked and chosen. */

import type { LocatedFinding } from '@ohmstead/language/protocol';
import type { Budget } from '@ohmstead/record';
import { followable, type PanelPictures, panelRegions } from '@ohmstead/views';
import { type Drawing, drawingOf, drawingSvg, drawingTable, type Sketch, widthOf } from '@ohmstead/views/drawing';
import { Layouts } from './layout.js';
import { listen } from './listen.js';
import type { KeptState, ToHost, ToPage } from './messages.js';
import { Regions } from './patch.js';
import type { PicturesAnswer } from './pictures.js';

declare function acquireVsCodeApi(): {
  postMessage(message: ToHost): void;
  getState(): Partial<KeptState> | undefined;
  setState(state: KeptState): void;
};

const host = acquireVsCodeApi();
const root = document.getElementById('root')!;
const regions = new Regions(root);

let kept: KeptState = {
  uri: '',
  shown: {},
  scroll: 0,
  pinned: false,
  values: {},
  picked: {},
  fullSize: false,
  open: {},
  ...host.getState(),
};
let budget: Budget | null = null;
let findings: readonly LocatedFinding[] = [];
let stale = false;
let marked: string | null = null;
let toRestore: number | undefined = kept.scroll;
let toShow: string | undefined;

let answer: PicturesAnswer | null = null;
/** The sketch that is drawn, and its picture; the one before stays until the next is laid out. */
let drawn: { readonly sketch: Sketch; readonly drawing: Drawing; readonly table: string } | null = null;
let problem: string | undefined;
/** Parts and runs at which the cursor was, latest first. */
let near: readonly string[] = [];

function keep(change: Partial<KeptState>): void {
  kept = { ...kept, ...change };
  host.setState(kept);
}

const hasValues = (): boolean => Object.keys(kept.values).length > 0;

function render(): void {
  if (budget === null) {
    regions.clear(
      '<p class="empty" role="status">No load budget yet: the record cannot be read as it stands. Its errors are in the Problems view.</p>',
    );
    return;
  }
  root.className = stale ? 'budget is-stale' : 'budget';
  regions.patch(
    panelRegions((hasValues() && answer?.budget) || budget, {
      findings,
      shown: kept.shown,
      stale,
      values: kept.values,
      pinned: kept.pinned,
      pictures: pictures(),
      ...(marked !== null && { marked }),
    }),
  );
  if (toRestore !== undefined) {
    // Pictures that are still to come make the page longer.
    window.scrollTo(0, toRestore);
    if (answer !== null && drawn !== null) toRestore = undefined;
  }
  if (toShow !== undefined) show(toShow);
}

function pictures(): PanelPictures {
  const { picked, open, fullSize } = kept;
  const room = fullSize ? undefined : roomFor();
  const drawing = drawn && {
    caption: drawn.sketch.caption,
    svg: drawingSvg(drawn.drawing, { inPage: true, marked: marked ?? undefined, room }),
    table: drawn.table,
    circuits: drawn.sketch.circuits,
    drawn: drawn.sketch.drawn,
    fits: drawn.sketch.fits,
    goesOn: widthOf(drawn.drawing, room) > roomFor(),
  };
  return {
    drawing,
    along: answer?.along ?? null,
    howFar: answer?.howFar ?? null,
    picked,
    open,
    fullSize,
    ...(problem !== undefined && { problem }),
  };
}

function show(section: string): void {
  const element = document.getElementById(section);
  if (!(element instanceof HTMLDetailsElement)) return;
  toShow = undefined;
  toRestore = undefined;
  element.open = true;
  element.scrollIntoView();
  element.querySelector('summary')?.focus();
}

let asking = false;
let askAgain = false;

/** One question at a time; what changed meanwhile is asked once more. */
function ask(): void {
  if (budget === null) return;
  if (asking) {
    askAgain = true;
    return;
  }
  asking = true;
  askAgain = false;
  const { uri, shown, values, picked } = kept;
  const { circuit, along, 'how-far': howFar } = picked;
  host.postMessage({
    kind: 'pictures',
    uri,
    ask: {
      shown,
      values,
      near,
      ...(circuit !== undefined && { circuitOf: circuit }),
      ...(along !== undefined && { along }),
      ...(howFar !== undefined && { howFar }),
    },
  });
}

async function draw(sketch: Sketch): Promise<void> {
  try {
    const laid = layouts.known(sketch.graph) ?? (await layouts.of(sketch.graph));
    // A later sketch has overtaken it.
    if (answer?.sketch !== sketch) return;
    const drawing = drawingOf(sketch, laid);
    problem = undefined;
    drawn = { sketch, drawing, table: drawingTable(sketch, followable) };
  } catch (error) {
    problem = `There is no drawing: ${error instanceof Error ? error.message : error}`;
  }
  render();
}

/** Pixels across that there are for the drawing. */
function roomFor(): number {
  return Math.max(240, root.clientWidth - 2);
}

let giveScript: ((script: string | null) => void) | undefined;
const layouts = new Layouts(
  () =>
    new Promise((resolve, reject) => {
      giveScript = (script) =>
        script === null ? reject(new Error('the layout library could not be read')) : resolve(script);
      host.postMessage({ kind: 'layout' });
    }),
);

function mark(name: string | null): void {
  marked = name;
  if (name !== null) near = [name, ...near.filter((each) => each !== name)].slice(0, 8);
}

window.addEventListener('message', ({ data }: MessageEvent<ToPage>) => {
  switch (data.kind) {
    case 'marked': {
      mark(data.name);
      render();
      if (data.name !== null) ask();
      return;
    }
    case 'layout':
      giveScript?.(data.script);
      return;
    case 'show':
      toShow = data.section;
      keep({ open: { ...kept.open, [data.section]: true } });
      render();
      return;
    case 'pictures': {
      asking = false;
      if (data.uri === kept.uri && data.answer !== null) {
        answer = data.answer;
        if (answer.sketch === null) render();
        else void draw(answer.sketch);
      }
      if (askAgain || data.uri !== kept.uri) ask();
      return;
    }
    case 'budget':
      receiveBudget(data);
  }
});

function receiveBudget(data: ToPage & { readonly kind: 'budget' }): void {
  const another = data.uri !== kept.uri;
  if (another) {
    keep({ uri: data.uri, shown: {}, scroll: 0, picked: {}, values: {} });
    answer = null;
    drawn = null;
    near = [];
    if (budget !== null) toRestore = 0;
  }
  // While the text can't be read, the last good result of the same record stays.
  stale = data.stale || (data.budget === null && !another);
  if (data.budget !== null || another) budget = data.budget;
  findings = data.findings;
  mark(data.marked);
  ask();
  // Figures at chosen values come with the answer.
  if (!hasValues() || answer === null) render();
}

listen({
  host,
  kept: () => kept,
  keep,
  changed: (alsoPictures) => {
    render();
    if (alsoPictures) ask();
  },
});

host.postMessage({ kind: 'ready', pinned: kept.pinned });
