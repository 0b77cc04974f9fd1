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
  makes: ['coldAir', 'poolDepth', 'pools', 'airSpeed', 'airBearing', 'airDoubts'],
  params: ({ air }) => ({ cooling: air.cooling, hours: air.hours }),
  run({ elevation, filled, cover }, { cooling, hours }, progress) {
    const night = nightDrainage(elevation, cover, cooling, hours, part(progress, 0, 0.9));
    const { pools, depth: poolDepth } = fillPools(elevation, filled, night.supply);
    const coldAir = night.depth.cells;
    for (let i = 0; i < coldAir.length; i++) coldAir[i] = Math.max(coldAir[i]!, poolDepth.cells[i]!);
    return {
      coldAir: night.depth,
      poolDepth,
      pools,
      airSpeed: night.speed,
      airBearing: night.bearing,
      airDoubts: nightDoubts({ elevation, cover, cooling, hours, unrest: night.unrest }),
    };
  },
});

export const airSteps = [night] as const;
