import type { BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { type LoopbackServer, serveLoopback } from '../../../electron/host/loopback-server.ts';
import { createSession } from '../../../electron/host/session.ts';
import type { Service } from '../../../electron/service/contract.ts';
import { type OnSample, openOnSample } from '../../electron/service/on-sample.ts';
import { type Bundle, bundleWindow, errorsOf, launch, typeOf } from './browser.ts';

/** The window in a real Chromium, over the loopback host, on a real service. */
export interface Sitting {
  page: Page;
  /** What the page said went wrong. */
  errors: string[];
  end(): Promise<void>;
}

/**
 * Begins a sitting; the service is the caller's to close.
 *
 * @param making the service, made while the window is bundled
 */
export async function sit(
  making: Promise<Service>,
  options: BrowserContextOptions = { viewport: { width: 1440, height: 900 } },
): Promise<Sitting> {
  const [service, bundle, browser] = await Promise.all([making, bundleWindow(), launch()]);
  const server = await serveWindow(service, bundle);
  const page = await browser.newPage({ reducedMotion: 'reduce', ...options });
  const errors = errorsOf(page);
  await page.goto(server.address);
  return {
    page,
    errors,
    async end() {
      await browser.close();
      await server.close();
    },
  };
}

/** A sitting on the scouted sample for all tests of a file: begun before the first, ended after the last. */
export function sitOnSample(): { sitting: Sitting; sample: OnSample } {
  const sitting = {} as Sitting;
  const sample = {} as OnSample;
  beforeAll(async () => {
    const making = openOnSample();
    Object.assign(sitting, await sit(making.then(({ service }) => service)));
    Object.assign(sample, await making);
    await sitting.page.waitForSelector('button:has-text("Scout again")', { timeout: 120_000 });
  }, 300_000);
  afterAll(async () => {
    await sitting.end?.();
    await sample.close?.();
  });
  return { sitting, sample };
}

const serveWindow = (service: Service, bundle: Bundle): Promise<LoopbackServer> =>
  serveLoopback({
    service,
    session: createSession(),
    files: (path) => {
      const bytes = bundle.files.get(path);
      return bytes ? { bytes: new Uint8Array(bytes), type: typeOf(path) } : null;
    },
  });

/** Where a place is on the screen, by the view the window keeps for its next start. */
export async function pixelOf(
  page: Page,
  [x, y]: readonly [number, number],
): Promise<{ x: number; y: number }> {
  const { centre, resolution } = await page.evaluate(
    () =>
      JSON.parse(localStorage.getItem('hollowgate.view')!) as {
        centre: [number, number];
        resolution: number;
      },
  );
  const box = (await page.locator('.map').boundingBox())!;
  return {
    x: box.x + box.width / 2 + (x - centre[0]) / resolution,
    y: box.y + box.height / 2 - (y - centre[1]) / resolution,
  };
}
