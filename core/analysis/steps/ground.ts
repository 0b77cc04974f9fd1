import { cellsAlong } from '../../features/cells.ts';
import { type Feature, ofKind } from '../../features/feature.ts';
import type { Frame } from '../../grid/frame.ts';
import { part } from '../../grid/progress.ts';
import { chooseInterval, contourLines } from '../../terrain/contours.ts';
import { groundDoubts } from '../../terrain/doubts.ts';
import { fillDepressions } from '../../terrain/filling.ts';
import { accumulate, flowDirections } from '../../terrain/flow.ts';
import { channelStations } from '../../terrain/incision.ts';
import { findLandforms } from '../../terrain/landforms.ts';
import { drainageLines, findReaches } from '../../terrain/reaches.ts';
import { surfaceOf } from '../../terrain/slope.ts';
import { chooseThreshold } from '../../terrain/threshold.ts';
import { waterSurface } from '../../terrain/water.ts';
import { defineStep } from '../step.ts';

const slope = defineStep({
  name: 'ground.slope',
  version: 2,
  title: 'Reading slopes',
  needs: ['elevation'],
  makes: ['slope', 'aspect', 'shade'],
  params: ({ ground }) => ({ azimuth: ground.sunAzimuth, altitude: ground.sunAltitude }),
  run: ({ elevation }, light, progress) => surfaceOf(elevation, light, progress),
});

const filled = defineStep({
  name: 'ground.filled',
  version: 1,
  title: 'Filling depressions',
  needs: ['elevation'],
  makes: ['filled'],
  params: () => ({}),
  run: ({ elevation }, _, progress) => ({ filled: fillDepressions(elevation, progress) }),
});

const water = defineStep({
  name: 'ground.water',
  version: 1,
  title: 'Opening dammed draws',
  needs: ['elevation', 'filled', 'features'],
  makes: ['water', 'waterWork', 'waterChanges'],
  params: () => ({}),
  run: ({ elevation, filled, features }, _, progress) => {
    const mapped = mappedWater(elevation.frame, features);
    const { water, work, cuts, sinks } = waterSurface(elevation, filled, mapped, undefined, progress);
    return { water, waterWork: work, waterChanges: { cuts, sinks } };
  },
});

/** Cells a creek or a culvert passes through; null when none is mapped. */
function mappedWater(frame: Frame, features: readonly Feature[]): Uint8Array | null {
  const lines = ofKind(features, 'creek', 'gap').filter(
    ({ kind, status, attributes }) =>
      status === 'existing' && (kind === 'creek' || attributes.type === 'culvert'),
  );
  if (lines.length === 0) return null;
  const mapped = new Uint8Array(frame.width * frame.height);
  // A mapped line may lie a few metres off; a culvert is a point in the road and serves the fill around it.
  for (const { kind, geometry } of lines) {
    const reach = Math.max(kind === 'gap' ? 20 : 6, 1.5 * frame.cellSize);
    cellsAlong(frame, geometry, reach, (cell) => {
      mapped[cell] = 1;
    });
  }
  return mapped;
}

const drainage = defineStep({
  name: 'ground.drainage',
  version: 2,
  title: 'Following the water',
  needs: ['water'],
  makes: ['flowDirection', 'accumulation', 'drainageStart', 'drainageLines'],
  params: ({ ground }) => ({ threshold: ground.drainageThreshold }),
  run: ({ water }, { threshold }, progress) => {
    const flowDirection = flowDirections(water, part(progress, 0, 0.4));
    const accumulation = accumulate(flowDirection, part(progress, 0.4, 0.6));
    const drainageStart = chooseThreshold(
      flowDirection,
      accumulation,
      water,
      threshold,
      part(progress, 0.6, 0.9),
    );
    progress(0.9);
    const reaches = findReaches(flowDirection, accumulation, drainageStart.cells);
    return { flowDirection, accumulation, drainageStart, drainageLines: drainageLines(reaches, water) };
  },
});

const forms = defineStep({
  name: 'ground.forms',
  version: 4,
  title: 'Finding ridges, saddles, benches and draws',
  needs: ['elevation', 'slope', 'water', 'flowDirection', 'accumulation', 'drainageStart', 'features'],
  makes: ['forms', 'saddles', 'benches', 'ridges', 'draws', 'formsLeftOut'],
  params: () => ({}),
  run: (
    { elevation, slope: slopes, water, flowDirection, accumulation, drainageStart, features },
    _,
    progress,
  ) => {
    const reaches = findReaches(flowDirection, accumulation, drainageStart.cells);
    return findLandforms(elevation, slopes, water, flowDirection, reaches, part(progress, 0.05, 1), (frame) =>
      roadBeds(frame, features),
    );
  },
});

/** How far the level bed of a road and its ditches reach to each side of its line, m (our assumption). */
const BED_REACH = 8;

/** Cells on or beside a road or railroad that is there; null when none is mapped. */
function roadBeds(frame: Frame, features: readonly Feature[]): Uint8Array | null {
  const roads = ofKind(features, 'road', 'railroad').filter(({ status }) => status === 'existing');
  if (roads.length === 0) return null;
  const beds = new Uint8Array(frame.width * frame.height);
  for (const { geometry } of roads) {
    cellsAlong(frame, geometry, Math.max(BED_REACH, 1.5 * frame.cellSize), (cell) => {
      beds[cell] = 1;
    });
  }
  return beds;
}

const channels = defineStep({
  name: 'ground.channels',
  version: 2,
  title: 'Measuring creek beds',
  needs: ['elevation', 'drainageLines', 'features'],
  makes: ['channels'],
  params: () => ({}),
  run: ({ elevation, drainageLines: lines, features }, _, progress) => ({
    channels: channelStations(
      elevation,
      lines,
      ofKind(features, 'creek').filter(({ status }) => status === 'existing'),
      progress,
    ),
  }),
});

const contours = defineStep({
  name: 'ground.contours',
  version: 2,
  title: 'Drawing contours',
  needs: ['elevation'],
  makes: ['contours'],
  params: ({ ground, units }) => ({ interval: ground.contourInterval, units }),
  run: ({ elevation }, { interval, units }, progress) => ({
    contours: contourLines(
      elevation,
      interval ?? chooseInterval(elevation, units),
      elevation.frame.cellSize / 4,
      progress,
    ),
  }),
});

const doubts = defineStep({
  name: 'ground.doubts',
  version: 3,
  title: 'Checking what the elevation can show',
  needs: [
    'elevation',
    'water',
    'waterChanges',
    'drainageStart',
    'drainageLines',
    'saddles',
    'benches',
    'formsLeftOut',
  ],
  makes: ['groundDoubts'],
  params: ({ units }) => ({ units }),
  run: (inputs, { units }, progress) => ({ groundDoubts: groundDoubts(inputs, units, progress) }),
});

/** The ground stage. */
export const groundSteps = [slope, filled, water, drainage, channels, forms, contours, doubts] as const;
