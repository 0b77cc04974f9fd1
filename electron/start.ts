/** `npm start`: the window in Electron where it can run, else in a browser on this machine. */
import { spawn } from 'node:child_process';
import { createRequire } from 'node:module';
import { dirname, resolve } from 'node:path';
import { isRoot } from './host/browser.ts';
import { fetchElectron, installedElectron } from './host/electron-binary.ts';
import { parseOptions, type StartOptions, USAGE } from './host/options.ts';
import { root } from './host/places.ts';

const options = read();
// npm runs this in the project's folder; a path is meant from where the person is.
const folder = (process.env.npm_lifecycle_event === 'start' && process.env.INIT_CWD) || process.cwd();
const path = options.path === null ? null : resolve(folder, options.path);
const found = options.host === 'loopback' ? { missing: null } : await electronProgram();

let why = found.missing;
if ('program' in found) {
  console.log('Opening Hollowgate in Electron.');
  const { opened, code } = await runElectron(found.program, path);
  if (opened || code === 0 || options.host === 'electron') process.exit(code);
  why = `Electron stopped with code ${code} before its window opened`;
}
if (options.host === 'electron') {
  console.error(`Electron cannot run here: ${why}.`);
  process.exit(1);
}
const how = options.openBrowser ? 'in a browser window on this machine' : 'for a browser on this machine';
console.log(`Opening Hollowgate ${how}${why === null ? '' : `, not in Electron: ${why}`}.`);
const { CannotStart, runLoopback } = await import('./loopback.ts');
try {
  await runLoopback({
    path,
    openBrowser: options.openBrowser,
    port: options.port,
  });
  process.exit(0);
} catch (error) {
  if (!(error instanceof CannotStart)) throw error;
  console.error(error.message);
  process.exit(1);
}

function read(): StartOptions {
  try {
    const parsed = parseOptions(process.argv.slice(2));
    if (parsed !== 'help') return parsed;
    console.log(USAGE);
    process.exit(0);
  } catch (error) {
    console.error(`${(error as Error).message}\n\n${USAGE}`);
    process.exit(2);
  }
}

/** The Electron program, fetched if need be, or the reason there is none. */
async function electronProgram(): Promise<{ program: string; missing: null } | { missing: string }> {
  const { DISPLAY, WAYLAND_DISPLAY } = process.env;
  if (process.platform === 'linux' && !DISPLAY && !WAYLAND_DISPLAY) {
    return { missing: 'this machine has no display for it' };
  }
  let electron: string;
  try {
    electron = dirname(createRequire(import.meta.url).resolve('electron/package.json'));
  } catch {
    return { missing: 'its package is not installed' };
  }
  let program = installedElectron(electron);
  if (program === null) {
    console.log('Fetching Electron, once (about 120 MB)…');
    const missing = await fetchElectron(electron);
    if (missing !== null) return { missing };
    program = installedElectron(electron);
  }
  return program === null ? { missing: 'its installer failed' } : { program, missing: null };
}

/** Runs the window host; `opened` says whether its window came up before it ended. */
function runElectron(program: string, path: string | null): Promise<{ opened: boolean; code: number }> {
  const { ELECTRON_RUN_AS_NODE: _, ...env } = process.env;
  const child = spawn(
    program,
    [...(isRoot() ? ['--no-sandbox'] : []), root, ...(path === null ? [] : [`--open=${path}`])],
    { stdio: ['inherit', 'inherit', 'inherit', 'ipc'], env },
  );
  let opened = false;
  child.on('message', (message) => {
    if (message === 'window-open') opened = true;
  });
  // Ctrl-C reaches the child from the terminal; we wait for it to close its files.
  process.on('SIGINT', () => {});
  process.on('SIGTERM', () => child.kill('SIGTERM'));
  return new Promise((done) => {
    child.once('error', () => done({ opened, code: 1 }));
    child.once('exit', (code) => done({ opened, code: code ?? 1 }));
  });
}
