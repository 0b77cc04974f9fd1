import { effect, signal } from '@preact/signals';
import type { Point } from '../../core/grid/frame.ts';
import { propertyKey } from './session.ts';

/** A question waits for places on the map: by click, at the keyboard's cross, or typed. */
export interface Aim {
  title: string;
  /** What to point at, one phrase a place. */
  places: readonly string[];
  done(points: Point[]): void;
}

/** What the map is asked for now; it stays after an answer so that one spot after another can be tried. */
export const aim = signal<Aim | null>(null);
export const aimed = signal<Point[]>([]);

export function startAim(next: Aim): void {
  aim.value = next;
  aimed.value = [];
}

export function stopAim(): void {
  aim.value = null;
  aimed.value = [];
}

// A place on one property answers nothing about another.
effect(() => {
  void propertyKey.value;
  stopAim();
});

export function takeAim(at: Point): void {
  const now = aim.value;
  if (!now) return;
  const points = [...aimed.value, at];
  if (points.length < now.places.length) {
    aimed.value = points;
    return;
  }
  aimed.value = [];
  now.done(points);
}
