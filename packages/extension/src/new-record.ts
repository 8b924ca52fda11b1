/** A new record by the four questions of a survey: what feeds it, what it feeds, where, and how far. */

import * as vscode from 'vscode';
import {
  isLength,
  jobChoices,
  placeName,
  recordText,
  type Survey,
  sampleSurvey,
  supplyChoices,
} from './sample-record.js';

const wanted = (count: number, what: string) => `Write ${count} ${what}, with commas between them`;

async function askPlaces(withChime: boolean): Promise<Survey['places'] | undefined> {
  const count = withChime ? 3 : 2;
  const split = (words: string) => words.split(',').map(placeName);
  const answer = await vscode.window.showInputBox({
    title: 'New record (3 of 4): where?',
    prompt: withChime
      ? 'Where the supply is, where the chime is, where the door is'
      : 'Where the supply is, where the door is',
    value: withChime ? 'basement, hall, porch' : 'basement, porch',
    validateInput: (words) => {
      const names = split(words);
      return names.length === count && !names.includes(undefined) ? undefined : wanted(count, 'places');
    },
  });
  if (answer === undefined) return undefined;
  const names = split(answer).filter((name) => name !== undefined);
  const [supply, chime, door] = withChime ? names : [names[0], names[0], names[1]];
  return supply && chime && door ? { supply, chime, door } : undefined;
}

async function askLengths(withChime: boolean, places: Survey['places']): Promise<Survey['lengths'] | undefined> {
  const stretches = withChime
    ? [`${places.supply} to ${places.chime}`, `${places.supply} to ${places.door}`]
    : [`${places.supply} to ${places.door}`];
  const split = (words: string) => words.split(',').map((each) => each.trim());
  const answer = await vscode.window.showInputBox({
    title: 'New record (4 of 4): how far, along the cable?',
    prompt: `${stretches.join(', then ')}. Leave it empty if it was not measured.`,
    placeHolder: withChime ? '30 ft, 21 ft 6 in' : '21 ft 6 in',
    validateInput: (words) => {
      const lengths = split(words);
      if (words.trim() === '') return undefined;
      return lengths.length === stretches.length && lengths.every(isLength)
        ? undefined
        : `${wanted(stretches.length, stretches.length === 1 ? 'length' : 'lengths')}: 9 m, 30 ft, 21 ft 6 in, about 40 ft`;
    },
  });
  if (answer === undefined) return undefined;
  const [first = '', second = ''] = split(answer);
  return withChime ? { toChime: first, toDoor: second } : { toChime: '', toDoor: first };
}

async function show(text: string): Promise<void> {
  const document = await vscode.workspace.openTextDocument({ language: 'ohmstead', content: text });
  await vscode.window.showTextDocument(document);
}

/** Asks, and opens what was answered as a record that is not saved yet. Escape at any question leaves everything as it was. */
export async function newRecord(): Promise<void> {
  const fed = await vscode.window.showQuickPick(supplyChoices, { title: 'New record (1 of 4): what feeds it?' });
  if (!fed) return;
  const feeds = await vscode.window.showQuickPick(jobChoices, { title: 'New record (2 of 4): what does it feed?' });
  if (!feeds) return;
  const withChime = feeds.job !== 'video';
  const places = await askPlaces(withChime);
  if (!places) return;
  const lengths = await askLengths(withChime, places);
  if (!lengths) return;
  await show(recordText({ supply: fed.supply, job: feeds.job, places, lengths }));
}

export async function openSample(): Promise<void> {
  await show(recordText(sampleSurvey));
}
