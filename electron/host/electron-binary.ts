import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Where the program lies in Electron's folder. */
const PROGRAM: Partial<Record<NodeJS.Platform, string>> = {
  darwin: 'Electron.app/Contents/MacOS/Electron',
  win32: 'electron.exe',
};

/**
 * Electron's npm package brings its program on first use, not at install: `install.js` in the package fetches
 * it, checks its digest, unpacks it into `dist` and names it in `path.txt`. We run that with a watch on it, so
 * that a machine without network goes on to the loopback host in seconds. ELECTRON_OVERRIDE_DIST_PATH names
 * another folder with the program in it, as it does for the package itself.
 */
export function installedElectron(folder: string, env: NodeJS.ProcessEnv = process.env): string | null {
  if (env.ELECTRON_OVERRIDE_DIST_PATH) {
    const program = join(env.ELECTRON_OVERRIDE_DIST_PATH, PROGRAM[process.platform] ?? 'electron');
    return existsSync(program) ? program : null;
  }
  try {
    const wanted = (JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as { version: string })
      .version;
    const present = readFileSync(join(folder, 'dist', 'version'), 'utf8')
      .trim()
      .replace(/^v/, '');
    const program = join(folder, 'dist', readFileSync(join(folder, 'path.txt'), 'utf8').trim());
    return present === wanted && existsSync(program) ? program : null;
  } catch {
    return null;
  }
}

/** Milliseconds without a first byte, and between bytes, before fetching is given up. */
export interface Patience {
  first: number;
  between: number;
}

/**
 * Fetches Electron. Null when it is there afterwards, else why not, in a clause that follows "because".
 */
export function fetchElectron(
  folder: string,
  patience: Patience = { first: 12_000, between: 30_000 },
): Promise<string | null> {
  const temporary = mkdtempSync(join(tmpdir(), 'hollowgate-electron-'));
  const child = spawn(process.execPath, [join(folder, 'install.js')], {
    env: { ...process.env, TMPDIR: temporary, TEMP: temporary, TMP: temporary },
    stdio: ['ignore', 'inherit', 'pipe'],
  });
  let complaint = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    complaint = (complaint + text).slice(-10_000);
  });
  return new Promise((resolve) => {
    let size = 0;
    let moved = performance.now();
    let stalled = false;
    const watch = setInterval(() => {
      const now = bytesUnder(temporary) + bytesUnder(join(folder, 'dist'));
      if (now !== size) {
        size = now;
        moved = performance.now();
      }
      if (performance.now() - moved > (size === 0 ? patience.first : patience.between)) {
        stalled = true;
        child.kill();
      }
    }, 250);
    const done = (reason: string | null) => {
      clearInterval(watch);
      rmSync(temporary, { recursive: true, force: true });
      resolve(reason);
    };
    child.once('error', (error) => done(`its installer did not start (${error.message})`));
    child.once('exit', (code) => {
      if (stalled) done('its download site did not answer');
      else if (code === 0 && installedElectron(folder) !== null) done(null);
      else done(plainly(complaint));
    });
  });
}

/** The installer's complaint as a clause a person can use. */
export function plainly(complaint: string): string {
  if (/ENOTFOUND|EAI_AGAIN|ENETUNREACH/.test(complaint)) return 'there is no network to fetch it over';
  if (/EACCES|EROFS|EPERM/.test(complaint)) return 'its folder in node_modules cannot be written';
  if (/ENOSPC/.test(complaint)) return 'the disk is full';
  const status = /Response code (\d+)/.exec(complaint);
  if (status) return `its download site answered with status ${status[1]}`;
  if (/checksum|sumchecker/i.test(complaint)) return 'what came over the network was not the file expected';
  if (/fetch failed|ECONN|ETIMEDOUT|TIMEOUT/.test(complaint)) return 'its download site did not answer';
  return 'its installer failed';
}

function bytesUnder(folder: string): number {
  let bytes = 0;
  try {
    for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
      if (entry.isFile()) bytes += statSync(join(entry.parentPath, entry.name)).size;
    }
  } catch {
    // A file that went while we looked counts next time.
  }
  return bytes;
}
