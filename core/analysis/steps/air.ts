import { airFactor, coarserFrame } from '../../air/air-grid.ts';
import { nightDoubts } from '../../air/doubts.ts';
import { nightDrainage } from '../../air/drainage.ts';
import { fillPools } from '../../air/pools.ts';
import { part } from '../../grid/progress.ts';
import { defineStep } from '../step.ts';

const night = defineStep({
  name: 'air.night',
  version: 1,
  title: 'Draining cold air and filling its pools',
  needs: ['elevation', 'filled', 'cover'],
  makes: ['coldAir', 'poolDepth', 'pools', 'airSpeed', 'airDoubts'],
  params: ({ air }) => ({ cooling: air.cooling, hours: air.hours }),
  run({ elevation, filled, cover }, { cooling, hours }, progress) {
    const { frame } = elevation;
    const { layer, depth, speed } = nightDrainage(filled, cover, cooling, part(progress, 0, 0.7));
    const airFrame = coarserFrame(frame, airFactor(frame));
    const factor = airFrame.cellSize / frame.cellSize;
    // A hollow gets what the layer brings to the air cell it lies in, through the whole night.
    const supply = (cell: number): number => {
      const row = Math.floor(Math.floor(cell / frame.width) / factor);
      const column = Math.floor((cell % frame.width) / factor);
      return layer.volume[row * airFrame.width + column]! * hours * 3600;
    };
    const { pools, depth: poolDepth } = fillPools(elevation, filled, supply);
    progress(0.9);
    const coldAir = depth.cells;
    for (let i = 0; i < coldAir.length; i++) coldAir[i] = coldAir[i]! + poolDepth.cells[i]!;
    return {
      coldAir: depth,
      poolDepth,
      pools,
      airSpeed: speed,
      airDoubts: nightDoubts({ elevation, cover, cooling, hours }),
    };
  },
});

export const airSteps = [night] as const;
