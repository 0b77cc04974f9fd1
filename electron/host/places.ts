import { readFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { basename, join } from 'node:path';

/** Where the project lies, from its bundle folder or from its sources. */
const here = import.meta.dirname;
export const root = basename(here) === 'dist' ? join(here, '..') : join(here, '..', '..');
export const dist = join(root, 'dist');

export function version(): string {
  return (JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string }).version;
}

/**
 * Where Hollowgate keeps what it makes: the usual place of the system, or HOLLOWGATE_DATA. Both hosts use the
 * same one, so that a property made in one is found from the other.
 */
export function dataFolder(
  env: NodeJS.ProcessEnv = process.env,
  platform: NodeJS.Platform = process.platform,
  home: string = homedir(),
): string {
  if (env.HOLLOWGATE_DATA) return env.HOLLOWGATE_DATA;
  if (platform === 'win32') return join(env.LOCALAPPDATA ?? join(home, 'AppData', 'Local'), 'Hollowgate');
  if (platform === 'darwin') return join(home, 'Library', 'Application Support', 'Hollowgate');
  return join(env.XDG_DATA_HOME ?? join(home, '.local', 'share'), 'hollowgate');
}
