import type { Frame, Grid, TypedArray } from '../../grid/frame.ts';
import { Problem } from '../../grid/problem.ts';
import { type Progress, part } from '../../grid/progress.ts';
import { cropTo } from '../../grid/window.ts';
import type { MarginShares } from '../../travel/margin.ts';
import { measuresOf } from '../../travel/study.ts';
import { sharesOf } from '../../travel/trials.ts';
import type { Artifacts, Results, Terrain } from '../artifacts.ts';
import type { AnyStep } from '../plan-run.ts';
import type { Settings } from '../settings.ts';
import { defineStep } from '../step.ts';
import { coverSteps } from './cover.ts';
import { groundSteps } from './ground.ts';
import { flowSteps } from './travel.ts';

/** The steps that lead from ground and cover to the flow of travel. */
const TO_FLOW: readonly AnyStep[] = (() => {
  const steps: readonly AnyStep[] = [...groundSteps, ...coverSteps, ...flowSteps];
  const makerOf = (made: keyof Results) => steps.find(({ makes }) => makes.includes(made));
  const wanted: AnyStep[] = [];
  const add = (step: AnyStep): void => {
    if (wanted.includes(step)) return;
    for (const need of step.needs) {
      const maker = makerOf(need);
      if (maker) add(maker);
    }
    wanted.push(step);
  };
  add(makerOf('todayTravel')!);
  return wanted;
})();

/**
 * Shares of what was sought when the whole analysis runs again on ground that reaches twice as far, and on the
 * property's own ground in the same wider cells: apart from the margin nothing differs between the two. Null where
 * the files reach no farther, or travel cannot be told there.
 */
const surroundings = defineStep({
  name: 'travel.surroundings',
  version: 1,
  title: 'Looking twice as far around',
  needs: ['surroundings', 'features', 'windSeason', 'resistance', 'sought'],
  makes: ['marginShares'],
  params: (settings: Settings) =>
    Object.fromEntries(TO_FLOW.map((step) => [step.name, step.params(settings)])) as Record<string, unknown>,
  run({ surroundings: wide, resistance, sought, features, windSeason }, params, progress) {
    if (wide === null) return { marginShares: null };
    const sharesOn = (ground: Terrain, told: Progress) => {
      const { todayTravel } = runOn({ ...ground, features, windSeason }, params, told);
      return sharesOf(measuresOf(sought), todayTravel.flow);
    };
    try {
      const usual = sharesOn(within(wide, resistance.frame), part(progress, 0, 0.3));
      const marginShares: MarginShares = { usual, wide: sharesOn(wide, part(progress, 0.3, 1)) };
      return { marginShares };
    } catch (error) {
      // Ground that cannot carry the analysis tells nothing about the margin; the property's own still stands.
      if (error instanceof Problem) return { marginShares: null };
      throw error;
    }
  },
});

/** Everything the steps to the flow make of some ground. */
function runOn(
  given: Terrain & Pick<Artifacts, 'features' | 'windSeason'>,
  params: Record<string, unknown>,
  progress: Progress,
): Pick<Artifacts, 'todayTravel'> {
  const made: Partial<Artifacts> = { ...given };
  TO_FLOW.forEach((step, k) => {
    const told = part(progress, k / TO_FLOW.length, (k + 1) / TO_FLOW.length);
    Object.assign(made, step.run(made, params[step.name], told));
  });
  return made as Pick<Artifacts, 'todayTravel'>;
}

/** The cells of the surroundings whose middles lie on a frame. */
function within(ground: Terrain, frame: Frame): Terrain {
  const window = windowOver(ground.elevation.frame, frame);
  const cut = <A extends TypedArray, G extends Grid<A>>(grid: G): G => cropTo(grid, window) as unknown as G;
  const bytes = (cells: Uint8Array) => cropTo({ frame: ground.elevation.frame, cells }, window).cells;
  const { imagery } = ground;
  return {
    elevation: cut(ground.elevation),
    imagery: imagery && {
      frame: window,
      bands: imagery.bands.map(bytes),
      valid: bytes(imagery.valid),
    },
    landcover: ground.landcover && cut(ground.landcover),
    vegetation: ground.vegetation && cut(ground.vegetation),
    holes: ground.holes && cut(ground.holes),
  };
}

function windowOver(wide: Frame, frame: Frame): Frame {
  const { cellSize } = wide;
  const first = (offset: number): number => Math.max(0, Math.ceil(offset / cellSize - 0.5));
  const left = first(frame.west - wide.west);
  const top = first(wide.north - frame.north);
  const right = first(frame.west + frame.width * frame.cellSize - wide.west);
  const bottom = first(wide.north - frame.north + frame.height * frame.cellSize);
  return {
    ...wide,
    west: wide.west + left * cellSize,
    north: wide.north - top * cellSize,
    width: Math.min(wide.width, right) - left,
    height: Math.min(wide.height, bottom) - top,
  };
}

export const surroundingsSteps = [surroundings];
