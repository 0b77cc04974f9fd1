import { SECTORS } from '../../../core/air/types.ts';
import { quietGrounds } from '../../../core/stands/quiet-ground.ts';
import type { ApproachWay, Lane, Sector, StandSpot, WalkTime } from '../../../core/stands/types.ts';
import { wedge } from '../../../core/stands/wedge.ts';
import { type Handlers, opened } from '../context.ts';
import { keepOverlay } from '../overlays.ts';
import { spotAsked } from '../spot-asked.ts';

const sectorShapes = (
  { at, range, id }: StandSpot,
  sectors: readonly Sector[],
): GeoJSON.FeatureCollection => ({
  type: 'FeatureCollection',
  features: sectors.map((sector) => ({
    type: 'Feature',
    id: `${id}-${sector.from}`,
    geometry: { type: 'Polygon', coordinates: [wedge(at, sector.from, sector.to, range)] },
    properties: { ...sector },
  })),
});

const laneShapes = (lanes: readonly Lane[]): GeoJSON.FeatureCollection => ({
  type: 'FeatureCollection',
  features: lanes.map(({ path, ...lane }) => ({
    type: 'Feature',
    id: lane.id,
    geometry: { type: 'LineString', coordinates: path },
    properties: lane,
  })),
});

const wayShapes = (ways: readonly ApproachWay[]): GeoJSON.FeatureCollection => ({
  type: 'FeatureCollection',
  features: ways.map(({ path, ...way }) => ({
    type: 'Feature',
    id: way.id,
    geometry: { type: 'LineString', coordinates: path },
    properties: way,
  })),
});

function windWords(from: number | null, time: WalkTime): string {
  if (from !== null) return `wind from ${SECTORS[Math.round(from / 22.5) % 16]}`;
  return time === 'midday' ? 'calm' : 'calm, cold air draining';
}

export const standsHandlers: Handlers<'stands.look' | 'stands.approach'> = {
  'stands.look': async (context, { leaves, ...asked }) => {
    const property = opened(context);
    const started = performance.now();
    const { stands: settings, units } = property.input.settings;
    const spot = spotAsked(property, asked);
    const { reach, codes } = await context.inquiring.ask(property, 'stands.look', {
      spot,
      leaves: leaves ?? settings.leaves,
      settings,
      units,
    });
    return {
      reach,
      overlay: keepOverlay(property, 'reach', `In range of ${spot.name}`, codes),
      sectors: sectorShapes(spot, reach.fire.sectors),
      lanes: laneShapes(reach.lanes),
      cautions: reach.fire.cautions,
      seconds: (performance.now() - started) / 1000,
    };
  },

  'stands.approach': async (context, asked) => {
    const property = opened(context);
    const started = performance.now();
    const { stands: settings, hunt, units } = property.input.settings;
    const { convergence } = property.input.frame;
    const { time, mode, from, windFrom } = asked;
    const spot = spotAsked(property, asked);
    const closed = quietGrounds(property.input.sources.features);
    const { approach, price } = await context.inquiring.ask(property, 'stands.approach', {
      spot,
      walk: {
        time,
        mode,
        from: from ?? hunt.startFrom,
        legs: hunt.legs,
        wind: windWords(windFrom, time),
        // Winds are told by true north; the grid's is turned by the convergence.
        towards: windFrom === null ? null : (windFrom - convergence + 540) % 360,
        allowNeighbour: asked.allowNeighbour ?? settings.allowNeighbour,
        dryLeaves: settings.dryLeaves,
      },
      leaves: settings.leaves,
      closed,
      units,
    });
    if (closed.length > 0)
      approach.doubts.push(`Kept out of, whatever the day: ${closed.map(({ name }) => name).join(', ')}.`);
    return {
      approach,
      overlay: keepOverlay(property, 'approach', 'What a walker costs', price),
      lines: wayShapes(approach.ways),
      seconds: (performance.now() - started) / 1000,
    };
  },
};
