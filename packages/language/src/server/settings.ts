/** What the user has set, as the server needs it; asked of the editor when it starts and when it says that something changed. */

import type { Connection } from 'vscode-languageserver';

export interface Settings {
  /** Computed volts beside the ends of conductors. */
  volts: boolean;
  /** By code; read by `levelsFrom`, which says what can't be honoured. */
  levels: unknown;
}

export const DEFAULT_SETTINGS: Readonly<Settings> = { volts: false, levels: undefined };

/** Reads the section `ohmstead`; gives whether anything is other than before. */
export async function readSettings(connection: Connection, settings: Settings): Promise<boolean> {
  const section: unknown = await connection.workspace.getConfiguration('ohmstead');
  const before = JSON.stringify(settings);
  Object.assign(settings, settingsFrom(section));
  return JSON.stringify(settings) !== before;
}

/** Anything that is not as the manifest has it counts as not set. */
export function settingsFrom(section: unknown): Settings {
  const inlayHints = property(section, 'inlayHints');
  return { volts: property(inlayHints, 'volts') === true, levels: property(section, 'levels') };
}

function property(value: unknown, name: string): unknown {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>)[name] : undefined;
}
