import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { browserArguments, findBrowser } from '../../../electron/host/browser.ts';
import { fetchElectron, installedElectron, plainly } from '../../../electron/host/electron-binary.ts';
import { parseOptions } from '../../../electron/host/options.ts';
import { dataFolder } from '../../../electron/host/places.ts';
import { readWindowState, writeWindowState } from '../../../electron/host/window-state.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'launch-test-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

describe('the command line', () => {
  test('says which host, and whether to open a browser', () => {
    expect(parseOptions([])).toEqual({ host: null, openBrowser: true, port: 0, path: null });
    expect(parseOptions(['--electron'])).toMatchObject({ host: 'electron' });
    expect(parseOptions(['--no-open', 'ridge.gpkg'])).toEqual({
      host: 'loopback',
      openBrowser: false,
      port: 0,
      path: 'ridge.gpkg',
    });
    expect(parseOptions(['--port', '8123'])).toMatchObject({ host: 'loopback', port: 8123 });
    expect(parseOptions(['-h', '--loopback'])).toBe('help');
  });

  test.each([
    [['--sideways']],
    [['--port']],
    [['--port', 'http']],
    [['--port', '70000']],
    [['--port', '']],
    [['--electron', '--no-open']],
    [['a.gpkg', 'b.gpkg']],
  ])('%j is refused with a sentence', (argv) => {
    expect(() => parseOptions(argv)).toThrow(/\w{3}/);
  });
});

describe('the browser', () => {
  const only = (path: string) => (asked: string) => asked === path;

  test('is found where each system keeps it', () => {
    const found = (platform: NodeJS.Platform, env: NodeJS.ProcessEnv, path: string) =>
      expect(findBrowser(platform, env, only(path))).toBe(path);
    found('linux', { PATH: '/usr/bin:/home/a/bin' }, '/usr/bin/chromium');
    found('linux', { PATH: '/usr/bin:/home/a/bin' }, '/home/a/bin/google-chrome');
    found('linux', {}, '/snap/bin/chromium');
    found('darwin', { HOME: '/Users/a' }, '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome');
    found('darwin', { HOME: '/Users/a' }, '/Users/a/Applications/Chromium.app/Contents/MacOS/Chromium');
    const windows = { 'PROGRAMFILES(X86)': 'C:\\Program Files (x86)', PROGRAMFILES: 'C:\\Program Files' };
    found('win32', windows, 'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe');
    expect(findBrowser('linux', { PATH: '/usr/bin' }, () => false)).toBeNull();
  });

  test('is not taken from a relative folder on the path', () => {
    const asked: string[] = [];
    findBrowser('linux', { PATH: '.:bin::/usr/bin' }, (path) => asked.push(path) < 0);
    expect(asked.every((path) => path.startsWith('/'))).toBe(true);
  });

  test('can be named outright, and then no other is tried', () => {
    expect(findBrowser('linux', { HOLLOWGATE_BROWSER: '/opt/b', PATH: '/usr/bin' }, only('/opt/b'))).toBe(
      '/opt/b',
    );
    expect(findBrowser('linux', { HOLLOWGATE_BROWSER: '/opt/b' }, only('/usr/bin/chromium'))).toBeNull();
  });

  test('keeps its sandbox for every user but root', () => {
    expect(browserArguments('http://127.0.0.1:1/#t=x', '/p', false)).not.toContain('--no-sandbox');
    expect(browserArguments('http://127.0.0.1:1/#t=x', '/p', true)).toContain('--no-sandbox');
    expect(browserArguments('http://127.0.0.1:1/#t=x', '/p', false)).toContain(
      '--app=http://127.0.0.1:1/#t=x',
    );
  });
});

describe('Electron’s program', () => {
  /** A package folder like Electron's, whose installer does what the test says. */
  function electronPackage(installer: string): void {
    writeFileSync(join(folder, 'package.json'), '{"version":"45.4.1"}');
    writeFileSync(join(folder, 'install.js'), installer);
  }
  const install = `
    const fs = require('fs'); const path = require('path');
    const dist = path.join(__dirname, 'dist');
    fs.mkdirSync(dist, { recursive: true });
    fs.writeFileSync(path.join(dist, 'version'), 'v45.4.1');
    fs.writeFileSync(path.join(dist, 'electron'), '');
    fs.writeFileSync(path.join(__dirname, 'path.txt'), 'electron');`;

  test('is found when it is whole and of the right version', async () => {
    electronPackage(install);
    expect(installedElectron(folder)).toBeNull();
    expect(await fetchElectron(folder)).toBeNull();
    expect(installedElectron(folder)).toBe(join(folder, 'dist', 'electron'));
    writeFileSync(join(folder, 'dist', 'version'), '44.0.0');
    expect(installedElectron(folder)).toBeNull();
  });

  test('that cannot be fetched for want of network gives a plain reason', async () => {
    electronPackage(
      `console.error('TypeError: fetch failed { [cause]: Error: getaddrinfo ENOTFOUND somewhere }'); process.exit(1);`,
    );
    expect(await fetchElectron(folder)).toBe('there is no network to fetch it over');
  });

  test('whose download never begins is given up', async () => {
    electronPackage('setInterval(() => {}, 1000);');
    const start = performance.now();
    expect(await fetchElectron(folder, { first: 500, between: 500 })).toBe(
      'its download site did not answer',
    );
    expect(performance.now() - start).toBeLessThan(5000);
  });

  test('whose download comes slowly is waited for', async () => {
    electronPackage(`
      const file = require('path').join(require('os').tmpdir(), 'part');
      let count = 0;
      const timer = setInterval(() => {
        require('fs').appendFileSync(file, 'x');
        if (++count === 12) { clearInterval(timer); ${install} }
      }, 100);`);
    expect(await fetchElectron(folder, { first: 1000, between: 600 })).toBeNull();
  });

  test('the installer’s own words become a clause', () => {
    expect(plainly('HTTPError: Response code 404 (Not Found) for …')).toContain('404');
    expect(plainly("Error: EACCES: permission denied, mkdir 'dist'")).toContain('cannot be written');
    expect(plainly('Error: ENOSPC: no space left on device')).toBe('the disk is full');
    expect(plainly('ChecksumMismatchError: sumchecker')).toContain('not the file expected');
    expect(plainly('ConnectTimeoutError UND_ERR_CONNECT_TIMEOUT')).toBe('its download site did not answer');
  });
});

test('the data folder is where each system keeps such things', () => {
  expect(dataFolder({ HOLLOWGATE_DATA: '/d' }, 'linux', '/home/a')).toBe('/d');
  expect(dataFolder({}, 'linux', '/home/a')).toBe('/home/a/.local/share/hollowgate');
  expect(dataFolder({ XDG_DATA_HOME: '/x' }, 'linux', '/home/a')).toBe('/x/hollowgate');
  expect(dataFolder({}, 'darwin', '/Users/a')).toBe('/Users/a/Library/Application Support/Hollowgate');
});

describe('the window’s place', () => {
  const screens = [{ x: 0, y: 0, width: 1920, height: 1080 }];
  const kept = (bounds: unknown, list = screens) => {
    const file = join(folder, 'window.json');
    writeFileSync(file, JSON.stringify({ bounds, maximized: true }));
    return readWindowState(file, list).bounds;
  };

  test('comes back as it was left', () => {
    const state = { bounds: { x: 10, y: 20, width: 1200, height: 800 }, maximized: true };
    writeWindowState(join(folder, 'window.json'), state);
    expect(readWindowState(join(folder, 'window.json'), screens)).toEqual(state);
  });

  test('is forgotten where no screen shows it any more, or it is not one', () => {
    expect(kept({ x: 2500, y: 20, width: 1200, height: 800 })).toBeNull();
    expect(kept({ x: -1190, y: 20, width: 1200, height: 800 })).toBeNull();
    expect(kept({ x: 10, y: -300, width: 1200, height: 800 })).toBeNull();
    expect(kept({ x: 10, y: 1075, width: 1200, height: 800 })).toBeNull();
    expect(kept({ x: 'a', y: 1, width: 2, height: 3 })).toBeNull();
    expect(kept(null)).toBeNull();
    mkdirSync(join(folder, 'none'));
    expect(readWindowState(join(folder, 'none'), screens)).toEqual({ bounds: null, maximized: false });
    expect(readWindowState(join(folder, 'absent.json'), screens).bounds).toBeNull();
  });
});
