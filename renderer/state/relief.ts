import { computed, effect, signal } from '@preact/signals';
import { type Block, readBlock } from '../map/relief/block.ts';
import type { Camera, Size } from '../map/relief/camera.ts';
import { pointsOf, rowsOf } from './rows.ts';
import { ask, propertyKey, report, summary } from './session.ts';
import { table } from './tables.ts';
import { flight, layersOpen } from './view.ts';

/** The block view of the property: how it is looked at, and the heights it is made of. */

export const reliefOpen = signal(false);

/** Cells of the block along its longer side, at most. */
const MOST_CELLS = 512;

const loaded = signal<{ property: string; block: Block } | null>(null);
export const block = computed(() =>
  loaded.value?.property === propertyKey.value ? loaded.value.block : null,
);

/** Room the view has on the screen, px. */
export const viewSize = signal<Size>({ width: 0, height: 0 });

/** The way it looks, how far down, how large, and where; null until the block has been fitted into the view. */
export const camera = signal<Camera | null>(null);
/** How many times taller heights are drawn; 1 is true to scale. */
export const TALLER = [1, 1.5, 2, 3, 5] as const;

/** From the south-west over the ground, so that slopes that face the sun of the shade are seen. */
const START = { bearing: 30, tilt: 35, taller: 2 } as const;

const LEAST_TILT = 10;
/** Room the card of layers takes, px. */
const CARD = 260;

/** Turns, tilts, moves or scales the view, inside what can be looked at. */
export function look(change: Partial<Camera>): void {
  const now = camera.peek();
  if (!now) return;
  const next = { ...now, ...change };
  camera.value = {
    ...next,
    bearing: ((next.bearing % 360) + 360) % 360,
    tilt: Math.min(90, Math.max(LEAST_TILT, next.tilt)),
    scale: Math.min(20, Math.max(0.01, next.scale)),
  };
}

export function turnBy(right: number, down: number): void {
  const now = camera.peek();
  if (now) look({ bearing: now.bearing + right, tilt: now.tilt + down });
}

/** Moves the ground in the middle by pixels to the right and away. */
export function moveBy(right: number, away: number): void {
  const now = camera.peek();
  if (!now) return;
  const turn = (now.bearing * Math.PI) / 180;
  const u = right / now.scale;
  const v = away / (now.scale * Math.max(0.2, Math.sin((now.tilt * Math.PI) / 180)));
  look({
    centre: [
      now.centre[0] + u * Math.cos(turn) + v * Math.sin(turn),
      now.centre[1] - u * Math.sin(turn) + v * Math.cos(turn),
    ],
  });
}

/** The property inside its boundary, with some ground round it; without one, the whole block. */
function lookedAt(made: Block): { middle: [number, number]; wide: number; high: number } {
  const points = rowsOf('features', table('features').peek())
    .filter(({ kind }) => kind === 'boundary')
    .flatMap(({ shape }) => pointsOf(shape));
  const [wide, high] = [made.columns * made.cell, made.rows * made.cell];
  if (points.length === 0) return { middle: [made.west + wide / 2, made.north - high / 2], wide, high };
  const [xs, ys] = [0, 1].map((axis) => points.map((point) => point[axis]!)) as [number[], number[]];
  const [west, east, south, north] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  return {
    middle: [(west + east) / 2, (south + north) / 2],
    wide: 1.25 * (east - west),
    high: 1.25 * (north - south),
  };
}

/** Looks at the property from where a person starts. */
export function showProperty(): void {
  const made = block.peek();
  const { width: all, height } = viewSize.peek();
  if (!made || all === 0 || height === 0) return;
  // The card of layers lies over the right of the view.
  const card = layersOpen.peek() && all > 640 ? CARD : 0;
  const width = all - card;
  const { middle, wide, high } = lookedAt(made);
  const across = Math.hypot(wide, high);
  const tilt = (START.tilt * Math.PI) / 180;
  const tall = across * Math.sin(tilt) + (made.high - made.low) * START.taller * Math.cos(tilt) * 1.2;
  camera.value = {
    ...START,
    centre: middle,
    scale: Math.min((width * 0.98) / across, (height * 0.98) / tall),
  };
  moveBy(card / 2, 0);
}

let asked = '';

async function load(of: string): Promise<void> {
  const { frame } = summary.peek()!;
  asked = of;
  try {
    const made = readBlock(await ask('map.heights', { most: MOST_CELLS }), frame);
    loaded.value = { property: of, block: made };
  } catch (reason) {
    reliefOpen.value = false;
    report(reason);
  } finally {
    asked = '';
  }
}

effect(() => {
  const of = propertyKey.value;
  if (reliefOpen.value && of !== '' && !block.value && asked !== of) void load(of);
});
effect(() => {
  void propertyKey.value;
  camera.value = null;
});
// What is flown to on the map comes into the middle here.
effect(() => {
  const to = flight.value;
  if (!to || !reliefOpen.peek()) return;
  const [west, south, east, north] = to.extent;
  look({ centre: [(west + east) / 2, (south + north) / 2] });
});
