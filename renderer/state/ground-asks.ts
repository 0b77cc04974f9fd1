import { computed, effect, signal } from '@preact/signals';
import type { Feature, Geometry } from 'geojson';
import type { Point } from '../../core/grid/frame.ts';
import type { OverlaySummary } from '../../electron/service/contract.ts';
import { startAim, stopAim } from './aiming.ts';
import { lineMark, shapeMark, spotMark } from './asked-marks.ts';
import { inquiry } from './inquiry.ts';
import { stage } from './view.ts';

/** Questions of the ground: what drains here, what is seen from here, a line of sight, the sun and its shade. */

export const GROUND_TOOLS = {
  drains: 'What drains here',
  seen: 'What is seen from here',
  sight: 'Line of sight',
  way: 'From where a way is seen',
  sun: 'Sun and shade',
} as const;
export type GroundTool = keyof typeof GROUND_TOOLS;
export const groundTool = signal<GroundTool | null>(null);

export const catchment = inquiry('ground.catchment');
export const seen = inquiry('ground.view');
export const sightline = inquiry('ground.sightline');
export const wayView = inquiry('ground.wayView');
export const sun = inquiry('ground.sun');
export const shadow = inquiry('ground.shadow');

/** Eyes of a standing person and the back of a deer, m: common practice, no source. */
export const heights = signal({ observer: 1.7, target: 0.9 });
export const radius = signal(600);
export const through = signal<'bare' | 'vegetation'>('bare');
/** Day and hour of the sun, from today and morning until the person sets them. */
export const day = signal(new Date().toISOString().slice(0, 10));
export const hour = signal(8);

export function askView([x, y]: Point): void {
  void seen.put({
    x,
    y,
    observerHeight: heights.value.observer,
    targetHeight: heights.value.target,
    radius: radius.value,
    through: through.value,
  });
}

export function askSight(from: Point, to: Point): void {
  void sightline.put({
    from,
    to,
    observerHeight: heights.value.observer,
    targetHeight: heights.value.target,
  });
}

/** Asks from where a person on a drawn way is in a deer's view. */
export function askWay(feature: string): void {
  void wayView.put({
    feature,
    observerHeight: heights.value.observer,
    targetHeight: heights.value.target,
    radius: radius.value,
  });
}

/** Takes a tool up; those that ask about a place wait for it on the map. */
export function takeUp(tool: GroundTool): void {
  groundTool.value = tool;
  const title = GROUND_TOOLS[tool];
  if (tool === 'drains')
    startAim({
      title,
      places: ['Click where the water passes.'],
      done: ([at]) => void catchment.put({ x: at![0], y: at![1] }),
    });
  else if (tool === 'seen')
    startAim({ title, places: ['Click where the eye is.'], done: ([at]) => askView(at!) });
  else if (tool === 'sight')
    startAim({
      title,
      places: ['Click where the eye is.', 'Click what it looks at.'],
      done: ([from, to]) => askSight(from!, to!),
    });
  else stopAim();
}

// Another stage has other questions.
effect(() => {
  void stage.value;
  stopAim();
});

/** Pictures the answers laid over the ground, by kind; each with how strong it is drawn. */
export const groundOverlays = computed((): OverlaySummary[] =>
  stage.value === 'ground'
    ? [seen.answer.value?.overlay, wayView.answer.value?.overlay, shadow.answer.value?.overlay].flatMap(
        (it) => it ?? [],
      )
    : [],
);

/** What the answers draw on the map. */
export const groundMarks = computed((): Feature[] => {
  const features: Feature[] = [];
  if (stage.value === 'ground') {
    const drained = catchment.answer.value;
    if (drained)
      features.push(
        shapeMark('catchment', drained.outline as Geometry),
        spotMark('outlet', drained.outlet, 'drains to here'),
      );
    const view = seen.asked.value;
    if (view) features.push(spotMark('eye', [view.x, view.y], 'seen from here'));
    const line = sightline.asked.value;
    if (line) {
      features.push(
        lineMark('sightline', [line.from, line.to]),
        spotMark('from', line.from, 'eye'),
        spotMark('to', line.to, 'looked at'),
      );
      const hides = sightline.answer.value?.obstruction;
      if (hides) features.push(spotMark('obstruction', hides.at, 'hides it'));
    }
  }
  return features;
});
