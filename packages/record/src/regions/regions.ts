/** What differs from one part of the world to another: mains, sizes that are sold, colours, words. One row for each profile. */

import { MAINS, type MainsProfile, type ProfileName } from '@ohmstead/circuit';

/** Words of the trade for the same things. */
export interface TradeWords {
  readonly splice: string;
  readonly splices: string;
  readonly jumper: string;
  readonly pigtail: string;
  readonly pushButton: string;
  readonly ground: string;
  readonly mainsSide: string;
}

export interface Region {
  readonly name: ProfileName;
  /** "North America". */
  readonly title: string;
  /** Volts, tolerance and frequency, with their source. */
  readonly mains: MainsProfile;
  /** How conductor sizes are stated: AWG (ASTM B258) or mm2 (IEC 60228). */
  readonly sizes: 'awg' | 'mm2';
  /** Volts that bell supplies are sold in; the next one that holds is offered. */
  readonly standardVolts: readonly number[];
  /** VA that they are sold in. */
  readonly standardVoltAmperes: readonly number[];
  /** Of low-voltage cable, in the order of its conductors; beyond them conductors are numbered. */
  readonly lowVoltageColours: readonly string[];
  /** Of line-voltage cable by its number of conductors, the grounding one not counted. */
  readonly lineColours: (count: number) => readonly string[];
  readonly groundColour: string;
  /** Whether a plug fits one way round only. */
  readonly plugsArePolarised: boolean;
  readonly words: TradeWords;
}

const americanWords: TradeWords = {
  splice: 'splice',
  splices: 'splices',
  jumper: 'jumper',
  pigtail: 'pigtail',
  pushButton: 'push button',
  ground: 'ground',
  mainsSide: 'line side',
};

const europeanWords: TradeWords = {
  splice: 'joint',
  splices: 'joints',
  jumper: 'link',
  pigtail: 'tail',
  pushButton: 'bell push',
  ground: 'earth',
  mainsSide: 'mains side',
};

/** As in HD 308: two conductors, three, four. */
const harmonised: readonly (readonly string[])[] = [
  [],
  ['brown'],
  ['brown', 'blue'],
  ['brown', 'black', 'grey'],
  ['brown', 'black', 'grey', 'blue'],
];

const harmonisedLine = (count: number): readonly string[] => harmonised[count] ?? harmonised[4]!;
const europeanPairs = ['white', 'brown', 'green', 'yellow', 'grey', 'pink', 'blue', 'red'];

/**
 * Sizes, volts, low-voltage colours and words are common practice, no source; line colours of Europe and the United Kingdom are those of
 * HD 308 (from memory, not confirmed), those of North America as its cable is sold.
 */
export const regionTable: Readonly<Record<ProfileName, Region>> = {
  'north-america': {
    name: 'north-america',
    title: 'North America',
    mains: MAINS['north-america'],
    sizes: 'awg',
    standardVolts: [6, 8, 10, 12, 16, 18, 24],
    standardVoltAmperes: [5, 8, 10, 15, 20, 30, 40, 50, 75, 100],
    lowVoltageColours: ['red', 'white', 'green', 'blue', 'yellow', 'brown', 'orange', 'black'],
    lineColours: () => ['black', 'white', 'red', 'blue'],
    groundColour: 'bare',
    plugsArePolarised: true,
    words: americanWords,
  },
  europe: {
    name: 'europe',
    title: 'Europe',
    mains: MAINS.europe,
    sizes: 'mm2',
    standardVolts: [8, 12, 16, 24],
    standardVoltAmperes: [4, 5, 8, 10, 15, 16, 24, 30, 40, 63, 100],
    lowVoltageColours: europeanPairs,
    lineColours: harmonisedLine,
    groundColour: 'green/yellow',
    plugsArePolarised: false,
    words: europeanWords,
  },
  'united-kingdom': {
    name: 'united-kingdom',
    title: 'United Kingdom',
    mains: MAINS['united-kingdom'],
    sizes: 'mm2',
    standardVolts: [8, 12, 16, 24],
    standardVoltAmperes: [4, 5, 8, 10, 15, 16, 24, 30, 40, 63, 100],
    lowVoltageColours: europeanPairs,
    lineColours: harmonisedLine,
    groundColour: 'green/yellow',
    plugsArePolarised: true,
    words: europeanWords,
  },
};

/** An unknown profile counts as the default one; the reader of the text reports it. */
export function regionOf(profile: string): Region {
  return Object.values(regionTable).find(({ name }) => name === profile) ?? regionTable['north-america'];
}

/**
 * A sentence in the words of the profile: "a splice takes two conductors" becomes "a joint takes two conductors". What stands in
 * backquotes is the record's own and stays.
 */
export function inTradeWords(profile: string, sentence: string): string {
  const { words } = regionOf(profile);
  if (words === americanWords) return sentence;
  return sentence
    .split('`')
    .map((stretch, index) => (index % 2 === 1 ? stretch : inEuropean(stretch, words)))
    .join('`');
}

function inEuropean(stretch: string, words: TradeWords): string {
  return stretch.replace(AMERICAN, (_whole, article: string | undefined, word: string) => {
    const said = european(word, words);
    if (article === undefined) return said;
    return `${/^[aeiou]/i.test(said) && /^a$/i.test(article) ? `${article}n` : article} ${said}`;
  });
}

const AMERICAN =
  /\b(?:(an?) )?(splices?|jumpers?|pigtails?|push buttons?|grounded|grounding|ungrounded|grounds?|line side|line-side|line voltage|line-voltage|receptacles?|panel|hot(?= conductor| and neutral))\b/gi;

function european(word: string, words: TradeWords): string {
  const said = word.toLowerCase();
  const plural = said.endsWith('s') ? 's' : '';
  const found = said.startsWith('splice')
    ? words.splice + plural
    : said.startsWith('jumper')
      ? words.jumper + plural
      : said.startsWith('pigtail')
        ? words.pigtail + plural
        : said.startsWith('push')
          ? words.pushButton.replace(/push$/, said.endsWith('s') ? 'pushes' : 'push')
          : (FIXED[said] ?? word);
  return /^[A-Z]/.test(word) ? found.charAt(0).toUpperCase() + found.slice(1) : found;
}

const FIXED: Readonly<Record<string, string>> = {
  ground: 'earth',
  grounds: 'earths',
  grounded: 'earthed',
  ungrounded: 'unearthed',
  grounding: 'earthing',
  'line side': 'mains side',
  'line-side': 'mains-side',
  'line voltage': 'mains voltage',
  'line-voltage': 'mains-voltage',
  receptacle: 'socket outlet',
  receptacles: 'socket outlets',
  panel: 'consumer unit',
  hot: 'live',
};
