import { SECTORS } from '../../../air/types.ts';
import { CHECK_REACH } from '../../../stands/deer-wind.ts';
import type { ReportTable } from '../../report.ts';
import { type Facts, position } from '../facts.ts';
import { left, right, table } from '../table.ts';

/** The deer's own wind in the cruising weeks, and where new bedding would be checked from a trail. */
export function deerTables({ artifacts: { deerSeason, routes }, say }: Facts): ReportTable[] {
  const { winds, bedding } = deerSeason;
  const blown = routes.length === 0 ? [] : winds.filter(({ into, across }) => into + across > 0);
  const trail = new Map(routes.map((route) => [route.id, `${route.from} to ${route.to}`]));
  return [
    ...table(
      'The deer’s wind: travel walked into or across each wind, and the bedding some trail passes on its downwind side',
      [
        left('From'),
        right('Daylight hours'),
        right('Into it'),
        right('Across it'),
        left('Bedding, and how far'),
      ],
      blown
        .toSorted((a, b) => (b.hours ?? 0) - (a.hours ?? 0) || SECTORS_AT[a.wind]! - SECTORS_AT[b.wind]!)
        .map(({ wind, hours, into, across, checks }) => [
          wind,
          hours === null ? 'not known' : say.share(hours),
          say.share(into),
          say.share(across),
          checks.map(({ area, distance }) => `${area} ${say.distance(distance)}`).join('; ') || 'none',
        ]),
    ),
    ...table(
      'New bedding that a trail would be the natural place to check from',
      [left('Place'), left('Where'), left('Trail'), right('Downwind by'), right('Daylight hours')],
      bedding.map(({ at, route, distance, checked }, n) => [
        String.fromCharCode(65 + n),
        position(at),
        trail.get(route) ?? route,
        say.distance(distance),
        say.share(checked),
      ]),
    ),
  ];
}

const SECTORS_AT: Record<string, number> = Object.fromEntries(SECTORS.map((name, k) => [name, k]));

/** Cells coarser than this show no trail, m: our assumption, as for stands. */
const COARSE = 30;

/** What no table of winds and trails can tell. */
export const deerDoubts = ({ artifacts: { deerSeason }, frame, say }: Facts): string[] =>
  deerSeason.winds.length === 0
    ? []
    : [
        ...(frame.cellSize > COARSE
          ? [
              `Cells of ${say.distance(frame.cellSize)} show no trail a deer would walk: the deer’s wind is of large directions of travel only.`,
            ]
          : []),
        `The deer’s wind takes the station’s wind as it blows and each trail the way it is drawn; that bucks check bedding from its downwind side within about ${say.distance(CHECK_REACH)} is common practice, no source.`,
      ];
