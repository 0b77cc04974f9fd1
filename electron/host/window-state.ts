import { readFileSync, writeFileSync } from 'node:fs';

export interface Bounds {
  x: number;
  y: number;
  width: number;
  height: number;
}

export interface WindowState {
  bounds: Bounds | null;
  maximized: boolean;
}

/** Smallest the window gets and must show on a screen to be put back there, in pixels. */
export const SMALLEST = { width: 900, height: 600 };
const GRIP = 120;

/** The window's place last time, unless it is unreadable or no screen shows it any more. */
export function readWindowState(file: string, screens: readonly Bounds[]): WindowState {
  try {
    const { bounds, maximized } = JSON.parse(readFileSync(file, 'utf8')) as WindowState;
    const { x, y, width, height } = bounds as Bounds;
    const sound = [x, y, width, height].every((value) => Number.isSafeInteger(value));
    const shown = screens.some(
      (screen) =>
        Math.min(x + width, screen.x + screen.width) - Math.max(x, screen.x) >= GRIP &&
        y >= screen.y &&
        y <= screen.y + screen.height - GRIP,
    );
    if (sound && shown) return { bounds: { x, y, width, height }, maximized: maximized === true };
  } catch {
    // None yet, or not ours: the usual place will do.
  }
  return { bounds: null, maximized: false };
}

export function writeWindowState(file: string, state: WindowState): void {
  try {
    writeFileSync(file, JSON.stringify(state));
  } catch (error) {
    // A place to remember is a comfort, never a reason to fail.
    console.error(error);
  }
}
