import type { Page } from 'playwright-core';

/** Begins to note how long each frame of a page takes, ms, from one to the next as the browser shows them. */
export const traceFrames = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const frames: number[] = [];
    Object.assign(window, { frames });
    let last = performance.now();
    const next = (now: number): void => {
      frames.push(now - last);
      last = now;
      requestAnimationFrame(next);
    };
    requestAnimationFrame(next);
  });

/** What was noted since, shortest first. */
export const frameTimes = (page: Page): Promise<number[]> =>
  page.evaluate(() => (window as never as { frames: number[] }).frames.splice(0).sort((a, b) => a - b));

export function frameWords(sorted: readonly number[]): string {
  const at = (part: number): string => `${sorted[Math.floor((sorted.length - 1) * part)]?.toFixed(1)} ms`;
  return `${sorted.length} frames, half within ${at(0.5)}, 95 of 100 within ${at(0.95)}, slowest ${at(1)}`;
}
