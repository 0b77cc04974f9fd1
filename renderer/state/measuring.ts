import { computed, effect, signal } from '@preact/signals';
import type { Feature } from 'geojson';
import type { Point } from '../../core/grid/frame.ts';
import { stopAim } from './aiming.ts';
import { lineMark, shapeMark, spotMark } from './asked-marks.ts';
import { drawing } from './editing.ts';
import { heights } from './ground-asks.ts';
import { inquiry } from './inquiry.ts';
import { propertyKey } from './session.ts';

/** Measuring on the map: a line with the ground under it, or an area. Nothing measured is an edit. */

export type MeasureTool = 'line' | 'area';

/** The tool taken up; null while nothing is measured. */
export const measureTool = signal<MeasureTool | null>(null);
/** What was drawn last with it; null while it is being drawn. An area's ring is closed. */
export const measured = signal<readonly Point[] | null>(null);
export const profile = inquiry('map.profile');
/** The place along the profile that is read, as a number among its places. */
export const along = signal<number | null>(null);

export function takeUpMeasure(tool: MeasureTool): void {
  drawing.value = null;
  stopAim();
  profile.forget();
  along.value = null;
  measured.value = null;
  measureTool.value = tool;
}

export function putMeasureAway(): void {
  measureTool.value = null;
  measured.value = null;
  along.value = null;
  profile.forget();
}

/** Takes what was drawn: a line is asked for the ground under it. */
export function measure(points: readonly Point[]): void {
  measured.value = points;
  along.value = null;
  if (measureTool.peek() === 'line') askProfile();
}

export function askProfile(): void {
  const line = measured.peek();
  if (!line) return;
  void profile.put({
    path: line.map(([x, y]) => [x, y]),
    observerHeight: heights.peek().observer,
    targetHeight: heights.peek().target,
  });
}

effect(() => {
  void propertyKey.value;
  putMeasureAway();
});

export const measureMarks = computed((): Feature[] => {
  const points = measured.value;
  if (!points || measureTool.value === null) return [];
  const answer = profile.answer.value;
  const here = along.value === null ? undefined : answer?.places[along.value];
  const hides = answer?.sight.obstruction;
  return [
    measureTool.value === 'area'
      ? shapeMark('measured', { type: 'Polygon', coordinates: [points.map(([x, y]) => [x, y])] })
      : lineMark('measured', points),
    ...(hides ? [spotMark('obstruction', hides.at, 'hides the far end')] : []),
    ...(here ? [spotMark('along', here.at, '')] : []),
  ];
});
