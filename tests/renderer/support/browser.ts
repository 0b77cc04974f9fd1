import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { findBrowser, isRoot } from '../../../electron/host/browser.ts';
import { CONTENT_SECURITY_POLICY } from '../../../electron/host/static-files.ts';

const root = fileURLToPath(new URL('../../../', import.meta.url));
/** A loopback address counts as secure, as both hosts' do; nothing listens there, every request is answered here. */
const ORIGIN = 'http://127.0.0.1:9';
const TYPES: Record<string, string> = {
  html: 'text/html; charset=utf-8',
  js: 'text/javascript',
  css: 'text/css',
  woff2: 'font/woff2',
};

/** Where a Chromium is; null without one, and then the window's browser tests are skipped and say so. */
export const browserPath: string | null = findBrowser();
if (browserPath === null) console.warn('No Chromium-family browser here: the window is not tried in one.');

export const launch = (): Promise<Browser> =>
  chromium.launch({
    executablePath: browserPath!,
    args: [
      '--disable-gpu',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      ...(isRoot() ? ['--no-sandbox'] : []),
    ],
  });

export interface Bundle {
  files: Map<string, Uint8Array>;
  fake: string;
}

/** The window as the build bundles it, and the fake connection to put before it. */
export async function bundleWindow(): Promise<Bundle> {
  const shared = { bundle: true, write: false, absWorkingDir: root, logLevel: 'error' } as const;
  const [shown, fake] = await Promise.all([
    build({
      ...shared,
      format: 'esm',
      target: 'es2022',
      jsx: 'automatic',
      jsxImportSource: 'preact',
      loader: { '.woff2': 'file' },
      entryPoints: ['renderer/main.tsx'],
      outdir: '/',
    }),
    build({ ...shared, format: 'iife', entryPoints: ['tests/renderer/fake/connection.ts'] }),
  ]);
  const files = new Map(shown.outputFiles.map((file) => [file.path, file.contents]));
  files.set('/', readFileSync(`${root}renderer/index.html`));
  return { files, fake: fake.outputFiles[0]!.text };
}

/** The type of a bundled file by its path. */
export const typeOf = (path: string): string =>
  TYPES[path === '/' ? 'html' : (path.split('.').pop() ?? '')] ?? 'application/octet-stream';

/** Keeps what the page says went wrong; the content policy reports what it blocks there too. */
export function errorsOf(page: Page): string[] {
  const errors: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  page.on('pageerror', (error) => errors.push(error.stack ?? error.message));
  return errors;
}

/** A page with the window on the fake connection, under the hosts' own content policy. */
export async function openWindow(
  browser: Browser,
  bundle: Bundle,
  options: BrowserContextOptions & { before?: string } = {},
): Promise<{ page: Page; errors: string[] }> {
  const { before, ...contextOptions } = options;
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, ...contextOptions });
  const page = await context.newPage();
  const errors = errorsOf(page);
  await page.route(`${ORIGIN}/**`, (route) => {
    const path = new URL(route.request().url()).pathname;
    const body = bundle.files.get(path);
    if (!body) return route.fulfill({ status: 404 });
    return route.fulfill({
      body: Buffer.from(body),
      contentType: typeOf(path),
      headers: { 'Content-Security-Policy': CONTENT_SECURITY_POLICY },
    });
  });
  await page.addInitScript(bundle.fake);
  if (before) await page.addInitScript(before);
  await page.goto(`${ORIGIN}/`);
  return { page, errors };
}

export interface DroppedFile {
  name: string;
  text?: string;
  size?: number;
  bytes?: Uint8Array;
}

/** Drops files on the window the way a file manager does. */
export async function dropFiles(page: Page, files: DroppedFile[]): Promise<void> {
  const plain = files.map(({ bytes, ...rest }) => ({
    ...rest,
    base64: bytes ? Buffer.from(bytes).toString('base64') : null,
  }));
  const transfer = await page.evaluateHandle((list) => {
    const made = new DataTransfer();
    for (const { name, text, size, base64 } of list) {
      const bytes = base64 === null ? null : Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
      made.items.add(new File([bytes ?? text ?? new Uint8Array(size ?? 0)], name));
    }
    return made;
  }, plain);
  await page.dispatchEvent('.window', 'drop', { dataTransfer: transfer });
}
