/** Records as they were at a revision, read through git without touching the working copy. */
import { spawnSync } from 'node:child_process';
import { realpathSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { CheckedRecord, WiringDocument } from '@ohmstead/language';
import { checkRecord, levelsFromFile, parseWiring, readRecord, WORKSPACE_FILE } from '@ohmstead/language';
import { type FileVersion, uriOfFile } from '@ohmstead/language/node';
import { complain, type Surroundings } from './surroundings.js';

interface AtRevision {
  /** As given, for messages; empty for what is staged. */
  readonly revision: string;
  readonly path: string;
}

/** `git:REV:PATH`; undefined for a file's own path. `git::PATH` is what is staged. */
export function revisionOf(argument: string): AtRevision | undefined {
  if (!argument.startsWith('git:')) return undefined;
  const rest = argument.slice('git:'.length);
  const cut = cutOf(rest);
  return cut < 0 ? { revision: rest, path: '' } : { revision: rest.slice(0, cut), path: rest.slice(cut + 1) };
}

/** The colon after the revision: one within braces, as in `HEAD^{/door: new}`, is the revision's own. */
function cutOf(text: string): number {
  let depth = 0;
  for (let index = 0; index < text.length; index++) {
    if (text[index] === '{') depth++;
    else if (text[index] === '}') depth--;
    else if (text[index] === ':' && depth <= 0) return index;
  }
  return -1;
}

type Outcome<T> = T | { readonly problem: string };

/** A file of a repository's tree. */
interface InTree {
  readonly repository: Repository;
  /** Empty for what is staged. */
  readonly tree: string;
  readonly file: string;
}

function inTree(here: Surroundings, { revision, path }: AtRevision): Outcome<InTree> {
  if (path === '') return { problem: `\`git:${revision}\` names no file: write git:REVISION:PATH.` };
  const repository = Repository.around(dirname(resolve(here.cwd, path)), here);
  if ('problem' in repository) return repository;
  const tree = repository.treeOf(revision);
  if (typeof tree !== 'string') return tree;
  return {
    repository,
    tree,
    file: join(repository.realFolder(dirname(resolve(here.cwd, path))), path.split(/[\\/]/).at(-1)!),
  };
}

const whereIs = (revision: string): string => (revision === '' ? 'among what is staged' : `at \`${revision}\``);

function levelsIn({ repository, tree }: InTree, revision: string) {
  const { levels, problems } = levelsFromFile(repository.textOf(tree, repository.rootFile(WORKSPACE_FILE)));
  return { levels, problems: problems.map((problem) => `${WORKSPACE_FILE} ${whereIs(revision)}: ${problem}`) };
}

/** A file's text at a revision, unread, at that revision's levels; undefined where there is none. */
export function versionAtRevision(here: Surroundings, at: AtRevision): FileVersion | undefined {
  const place = inTree(here, at);
  if ('problem' in place) return undefined;
  const text = place.repository.textOf(place.tree, place.file);
  return text === undefined ? undefined : { uri: uriOfFile(place.file), text, ...levelsIn(place, at.revision) };
}

/** A record with what it imports or changes, all at one revision. `like`: another version of it, of which what is the same is taken over. */
export function openAtRevision(
  here: Surroundings,
  at: AtRevision,
  like?: CheckedRecord,
): Outcome<{ readonly record: CheckedRecord }> {
  const place = inTree(here, at);
  if ('problem' in place) return place;
  const { repository, tree, file } = place;
  const documents = new Map<string, WiringDocument | undefined>();
  const document = (uri: string): WiringDocument | undefined => {
    if (!uri.startsWith('file:')) return undefined;
    if (!documents.has(uri)) {
      const text = repository.textOf(tree, fileURLToPath(uri));
      documents.set(uri, text === undefined ? undefined : parseWiring(uri, text));
    }
    return documents.get(uri);
  };
  const own = document(uriOfFile(file));
  if (!own) {
    return { problem: `There is no file \`${at.path}\` ${whereIs(at.revision)}, or it is not text in UTF-8.` };
  }
  const isInside = (uri: string): boolean => uri.startsWith('file:') && repository.has(fileURLToPath(uri));
  const { levels, problems } = levelsIn(place, at.revision);
  for (const problem of problems) complain(here, problem);
  const checked = new Map<string, CheckedRecord>();
  const check = (one: WiringDocument): CheckedRecord => {
    const known = checked.get(one.uri);
    if (known) return known;
    const imported = (uri: string): CheckedRecord | undefined => {
      const other = document(uri);
      return other && check(other);
    };
    const record = checkRecord(readRecord(one, { document, isInside }), { imported, levels, previous: like });
    checked.set(one.uri, record);
    return record;
  };
  return { record: check(own) };
}

/** Whether a revision is one of the repository that a file is in; says so where it is not. */
export function isAtRevision(here: Surroundings, revision: string, file = '.'): boolean {
  const repository = Repository.around(dirname(resolve(here.cwd, file)), here);
  const tree = 'problem' in repository ? repository : repository.treeOf(revision);
  if (typeof tree !== 'string') complain(here, tree.problem);
  return typeof tree === 'string';
}

class Repository {
  readonly #root: string;
  readonly #here: Surroundings;

  private constructor(root: string, here: Surroundings) {
    this.#root = root;
    this.#here = here;
  }

  /** The repository of a folder, or of the working folder where that folder is no longer there. */
  static around(folder: string, here: Surroundings): Outcome<Repository> {
    for (const from of [folder, here.cwd]) {
      const asked = git(here, from, ['rev-parse', '--show-toplevel']);
      if (asked.missing) return { problem: 'git is not installed, or not on the path: `git:` needs it.' };
      if (asked.out !== undefined) return new Repository(asked.out.toString('utf8').replace(/\r?\n$/, ''), here);
    }
    return { problem: `\`${folder}\` is not in a git repository.` };
  }

  /** A path under the root that git tells, which is free of links. */
  realFolder(folder: string): string {
    try {
      return realpathSync(folder);
    } catch {
      return folder;
    }
  }

  rootFile(name: string): string {
    return join(this.#root, name);
  }

  has(file: string): boolean {
    const path = relative(this.#root, file);
    return path !== '' && path !== '..' && !path.startsWith(`..${sep}`);
  }

  /** The tree's name, which can't be mistaken for an option; empty for what is staged. */
  treeOf(revision: string): Outcome<string> {
    if (revision === '') return '';
    if (revision.includes('\0')) return { problem: 'A revision holds no such character.' };
    const asked = git(this.#here, this.#root, [
      'rev-parse',
      '--verify',
      '--quiet',
      '--end-of-options',
      `${revision}^{tree}`,
    ]);
    const name = asked.out?.toString('utf8').trim() ?? '';
    return /^[0-9a-f]{40,64}$/.test(name) ? name : { problem: `\`${revision}\` is not a revision of this repository.` };
  }

  textOf(tree: string, file: string): string | undefined {
    if (!this.has(file)) return undefined;
    const path = relative(this.#root, file).split(sep).join('/');
    const { out } = git(this.#here, this.#root, ['cat-file', 'blob', tree === '' ? `:0:${path}` : `${tree}:${path}`]);
    if (out === undefined) return undefined;
    try {
      return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(out);
    } catch {
      return undefined;
    }
  }
}

const LARGEST_FILE = 64 * 1024 * 1024;

interface Answer {
  readonly out?: Buffer;
  readonly missing: boolean;
}

/** What git was asked already in one run of the command: nothing that it tells changes meanwhile. */
const answers = new WeakMap<Surroundings, Map<string, Answer>>();

function git(here: Surroundings, folder: string, args: readonly string[]): Answer {
  const known = answers.get(here) ?? new Map<string, Answer>();
  answers.set(here, known);
  const question = [folder, ...args].join('\0');
  const answer = known.get(question) ?? ask(here, folder, args);
  known.set(question, answer);
  return answer;
}

/** Arguments are handed over as they are, never through a shell. */
function ask({ env }: Surroundings, folder: string, args: readonly string[]): Answer {
  const run = spawnSync('git', ['-C', folder, ...args], {
    env: { ...env, GIT_OPTIONAL_LOCKS: '0', LC_ALL: 'C' },
    maxBuffer: LARGEST_FILE,
    stdio: ['ignore', 'pipe', 'ignore'],
    windowsHide: true,
  });
  const missing = (run.error as NodeJS.ErrnoException | undefined)?.code === 'ENOENT';
  return run.status === 0 ? { out: run.stdout, missing } : { missing };
}
