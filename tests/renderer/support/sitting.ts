import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { type LoopbackServer, serveLoopback } from '../../../electron/host/loopback-server.ts';
import { createSession } from '../../../electron/host/session.ts';
import type { Service } from '../../../electron/service/contract.ts';
import { type Bundle, bundleWindow, errorsOf, launch, typeOf } from './browser.ts';

/** The window in a real Chromium, over the loopback host, on a real service. */
export interface Sitting {
  browser: Browser;
  page: Page;
  /** What the page said went wrong. */
  errors: string[];
  address: string;
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
    browser,
    page,
    errors,
    address: server.address,
    async end() {
      await browser.close();
      await server.close();
    },
  };
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
