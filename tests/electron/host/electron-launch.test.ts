/**
 * The window host in real Electron, wherever its program is. What the stand-in in main.test.ts can only record,
 * this sees happen.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { _electron, type ElectronApplication, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { isRoot } from '../../../electron/host/browser.ts';
import { installedElectron } from '../../../electron/host/electron-binary.ts';
import { root } from '../../../electron/host/places.ts';
import { bundleProgram } from './program.ts';

const program = installedElectron(dirname(createRequire(import.meta.url).resolve('electron/package.json')));
const display =
  process.platform !== 'linux' || Boolean(process.env.DISPLAY) || Boolean(process.env.WAYLAND_DISPLAY);
if (program === null)
  console.warn('Skipped: Electron’s program is not here, so the window is tried by contract only.');
else if (!display) console.warn('Skipped: Electron is here but no display for it (run under xvfb-run).');

describe.skipIf(program === null || !display)('Electron itself', { timeout: 120_000 }, () => {
  let folder: string;
  let electron: ElectronApplication;
  let page: Page;

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'electron-launch-'));
    await bundleProgram();
    electron = await _electron.launch({
      executablePath: program!,
      args: [...(isRoot() ? ['--no-sandbox'] : []), root],
      env: { ...(process.env as Record<string, string>), HOLLOWGATE_DATA: folder },
    });
    page = await electron.firstWindow();
  }, 120_000);

  afterAll(async () => {
    await electron?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test('shows our page on our scheme, without Node in it', async () => {
    expect(page.url()).toBe('hollowgate://window/');
    const globals = 'typeof process + typeof require + typeof module + typeof global';
    expect(await page.evaluate(globals)).toBe('undefined'.repeat(4));
    expect(await page.evaluate('Object.keys(window.hollowgate).sort().join()')).toBe('listen,request');
  });

  test('answers from the service process, and refuses what is not of the contract', async () => {
    const answer = await page.evaluate("window.hollowgate.request('host.describe', {})");
    expect(answer).toMatchObject({ host: 'electron', canPick: true });
    const refusal = await page.evaluate(
      "window.hollowgate.request('host.unknown', {}).catch((reason) => reason.trouble.kind)",
    );
    expect(refusal).toBe('refused');
  });

  test('leads nowhere else', async () => {
    await page.evaluate("window.location.href = 'https://elsewhere.example/'");
    expect(await page.evaluate("window.open('https://elsewhere.example/')")).toBeNull();
    expect(await page.evaluate("fetch('https://elsewhere.example/').then(() => 'out', () => 'held')")).toBe(
      'held',
    );
    expect(page.url()).toBe('hollowgate://window/');
    expect(electron.windows()).toHaveLength(1);
  });
});
