import { signal } from '@preact/signals';
import type { Reading } from '../../electron/service/contract.ts';
import { ask } from './session.ts';

/** Where the pointer (or the keyboard's crosshair) rests, frame coordinates, and what is there. */
export const pointer = signal<[number, number] | null>(null);
export const readings = signal<Reading[]>([]);

const REST = 120;
let timer: ReturnType<typeof setTimeout> | undefined;
let asked = 0;

/** Moves the pointer; a reading is asked for once it has rested a moment. */
export function rest(at: [number, number] | null): void {
  pointer.value = at;
  clearTimeout(timer);
  if (!at) {
    readings.value = [];
    return;
  }
  timer = setTimeout(async () => {
    asked += 1;
    const mine = asked;
    try {
      const answer = await ask('map.reading', { x: at[0], y: at[1] });
      if (mine === asked) readings.value = answer;
    } catch {
      // A reading is a courtesy; a point outside the grids or a busy service shows none.
      if (mine === asked) readings.value = [];
    }
  }, REST);
}
