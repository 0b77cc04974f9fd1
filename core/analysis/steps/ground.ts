import { part } from '../../grid/progress.ts';
import { chooseInterval, contourLines } from '../../terrain/contours.ts';
import { groundDoubts } from '../../terrain/doubts.ts';
import { fillDepressions } from '../../terrain/filling.ts';
import { accumulate, flowDirections } from '../../terrain/flow.ts';
import { findLandforms } from '../../terrain/landforms.ts';
import { drainageLines, findReaches } from '../../terrain/reaches.ts';
import { surfaceOf } from '../../terrain/slope.ts';
import { thresholdCells } from '../../terrain/threshold.ts';
import { defineStep } from '../step.ts';

const slope = defineStep({
  name: 'ground.slope',
  version: 1,
  title: 'Reading slopes',
  needs: ['elevation'],
  makes: ['slope', 'aspect', 'shade'],
  params: ({ ground }) => ({ azimuth: ground.sunAzimuth, altitude: ground.sunAltitude }),
  run: ({ elevation }, light) => surfaceOf(elevation, light),
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

const drainage = defineStep({
  name: 'ground.drainage',
  version: 1,
  title: 'Following the water',
  needs: ['filled'],
  makes: ['flowDirection', 'accumulation', 'drainageLines'],
  params: ({ ground }) => ({ threshold: ground.drainageThreshold }),
  run: ({ filled }, { threshold }, progress) => {
    const flowDirection = flowDirections(filled);
    progress(0.5);
    const accumulation = accumulate(flowDirection);
    progress(0.8);
    const reaches = findReaches(
      flowDirection,
      accumulation,
      thresholdCells(threshold, filled.frame.cellSize),
    );
    return { flowDirection, accumulation, drainageLines: drainageLines(reaches, filled) };
  },
});

const forms = defineStep({
  name: 'ground.forms',
  version: 1,
  title: 'Finding ridges, saddles, benches and draws',
  needs: ['elevation', 'filled', 'flowDirection', 'accumulation'],
  makes: ['forms', 'saddles', 'benches', 'ridges', 'draws'],
  params: ({ ground }) => ({ threshold: ground.drainageThreshold }),
  run: ({ elevation, filled, flowDirection, accumulation }, { threshold }, progress) => {
    const cells = thresholdCells(threshold, elevation.frame.cellSize);
    const reaches = findReaches(flowDirection, accumulation, cells);
    return findLandforms(elevation, filled, flowDirection, reaches, part(progress, 0.05, 1));
  },
});

const contours = defineStep({
  name: 'ground.contours',
  version: 1,
  title: 'Drawing contours',
  needs: ['elevation'],
  makes: ['contours'],
  params: ({ ground, units }) => ({ interval: ground.contourInterval, units }),
  run: ({ elevation }, { interval, units }) => ({
    contours: contourLines(
      elevation,
      interval ?? chooseInterval(elevation, units),
      elevation.frame.cellSize / 4,
    ),
  }),
});

const doubts = defineStep({
  name: 'ground.doubts',
  version: 1,
  title: 'Checking what the elevation can show',
  needs: ['elevation', 'filled', 'drainageLines', 'saddles', 'benches'],
  makes: ['groundDoubts'],
  params: () => ({}),
  run: ({ elevation, filled, drainageLines: lines, saddles, benches }) => ({
    groundDoubts: groundDoubts(elevation, filled, lines, saddles, benches),
  }),
});

/** The ground stage. */
export const groundSteps = [slope, filled, drainage, forms, contours, doubts] as const;
