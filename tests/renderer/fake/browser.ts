import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
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

/** Chromium where one is installed, else null: the window's browser tests are then skipped and say so. */
export const chromiumPath = (): string | null =>
  [
    process.env.CHROMIUM ?? '',
    '/usr/bin/chromium',
    '/usr/bin/chromium-browser',
    '/usr/bin/google-chrome',
  ].find((path) => path !== '' && existsSync(path)) ?? null;

export const launch = (): Promise<Browser> =>
  chromium.launch({
    executablePath: chromiumPath()!,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
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

/** A page with the window on the fake connection, under the hosts' own content policy. Console errors are kept. */
export async function openWindow(
  browser: Browser,
  bundle: Bundle,
  options: BrowserContextOptions & { before?: string } = {},
): Promise<{ page: Page; errors: string[] }> {
  const { before, ...contextOptions } = options;
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, ...contextOptions });
  const page = await context.newPage();
  const errors: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  page.on('pageerror', (error) => errors.push(error.stack ?? error.message));
  await page.route(`${ORIGIN}/**`, (route) => {
    const path = new URL(route.request().url()).pathname;
    const body = bundle.files.get(path);
    if (!body) return route.fulfill({ status: 404 });
    const type = TYPES[path === '/' ? 'html' : (path.split('.').pop() ?? '')] ?? 'application/octet-stream';
    return route.fulfill({
      body: Buffer.from(body),
      contentType: type,
      headers: { 'Content-Security-Policy': CONTENT_SECURITY_POLICY },
    });
  });
  await page.addInitScript(bundle.fake);
  if (before) await page.addInitScript(before);
  await page.goto(`${ORIGIN}/`);
  return { page, errors };
}
