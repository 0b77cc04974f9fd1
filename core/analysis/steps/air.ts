import { nightDoubts } from '../../air/doubts.ts';
import { nightDrainage } from '../../air/drainage.ts';
import { gatherAir } from '../../air/gather.ts';
import { fillPools } from '../../air/pools.ts';
import { CRUISING, seasonWind } from '../../air/season.ts';
import { part } from '../../grid/progress.ts';
import { defineStep } from '../step.ts';

const night = defineStep({
  name: 'air.night',
  version: 4,
  title: 'Draining cold air and filling its pools',
  needs: ['elevation', 'filled', 'cover'],
  makes: ['coldAir', 'poolDepth', 'pools', 'airSpeed', 'airBearing', 'airDoubts'],
  params: ({ air }) => ({ cooling: air.cooling, hours: air.hours }),
  run({ elevation, filled, cover }, { cooling, hours }, progress) {
    const night = nightDrainage(elevation, cover, cooling, hours, part(progress, 0, 0.9));
    const gathered = gatherAir(elevation, filled);
    const supply = (hollow: Int32Array) =>
      Math.max(night.standing(hollow), gathered.onto(hollow) * night.made);
    const { pools, depth: poolDepth } = fillPools(elevation, filled, supply, gathered.onward);
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

const wind = defineStep({
  name: 'air.wind',
  version: 3,
  title: 'Counting the wind by season and part of day',
  needs: ['elevation', 'wind'],
  makes: ['windSeason'],
  params: () => null,
  run({ elevation, wind }, _params, progress) {
    if (!wind) return { windSeason: null };
    const { longitude, latitude } = elevation.frame;
    const cruising = seasonWind(wind, longitude, latitude, CRUISING);
    progress(0.2);
    return { windSeason: { cruising, year: seasonWind(wind, longitude, latitude, null) } };
  },
});

export const airSteps = [night, wind] as const;
