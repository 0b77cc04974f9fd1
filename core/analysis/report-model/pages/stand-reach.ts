import { decimal } from '../../../features/units.ts';
import { sectorKinds } from '../../../stands/sectors.ts';
import type { Passing, SectorState, StandReach } from '../../../stands/types.ts';
import type { ReportTable } from '../../report.ts';
import type { Facts } from '../facts.ts';
import { left, right, shown, table } from '../table.ts';

/** What a stand reaches, sees and has behind it, as its card and the page of all stands tell it. */

/** How a direction was found. None of these words says that a shot is safe. */
const FIRE_WORDS: Record<SectorState, string> = {
  closed: 'closed',
  unknown: 'not known',
  open: 'open: nothing close behind',
  checked: 'checked: ground close behind',
};
const FIRE_ORDER: SectorState[] = ['closed', 'unknown', 'open', 'checked'];

const MOST_LINES = 8;

/** All stands under each other. */
export const reachesTable = ({ artifacts, say }: Facts): ReportTable[] =>
  table(
    'What each stand reaches and sees, and what lies behind a deer all round; its card has the directions',
    [
      left('Stand'),
      left('Weapon, range'),
      right('Travel in range'),
      right('In clear view'),
      right('Lanes to cut'),
      right('Closed'),
      right('Open'),
      right('Checked'),
    ],
    artifacts.standReaches.map(({ spot, shareInReach, shareInView, lanes, fire }) => [
      spot.proposed ? `${spot.name} (proposed)` : spot.name,
      `${spot.weapon}, ${say.distance(spot.range)}`,
      shareInReach === null ? 'not known' : say.share(shareInReach),
      shareInView === null ? 'not known' : say.share(shareInView),
      lanes.length === 0 ? 'none' : `${lanes.length}`,
      say.degrees(fire.degrees.closed),
      say.degrees(fire.degrees.open),
      say.degrees(fire.degrees.checked),
    ]),
  );

/** Directions found alike in one row, the ones nobody shoots towards first. */
export function fireTable({ fire }: StandReach, { frame }: Facts): ReportTable[] {
  const turned = trueDegrees(frame.convergence);
  return table(
    'What lies behind a deer, direction by direction; nothing here calls a shot safe',
    [left('Directions, true'), left('Found'), left('Why')],
    sectorKinds(fire.sectors)
      .sort((a, b) => FIRE_ORDER.indexOf(a.state) - FIRE_ORDER.indexOf(b.state))
      .map(({ state, reasons, spans }) => [
        spans
          .map(({ from, to }) => (to - from >= 360 ? 'all round' : `${turned(from)} to ${turned(to)}`))
          .join(', '),
        FIRE_WORDS[state],
        reasons.slice(0, 2).join(' '),
      ]),
  );
}

export function passingTable({ passings }: StandReach, facts: Facts): ReportTable[] {
  const { say } = facts;
  const names = namesOf(facts);
  const rows = passings.filter(({ kind }) => kind !== 'route').sort((a, b) => b.share - a.share);
  return table(
    shown('Travel in range', rows.length, MOST_LINES),
    [
      left('Travel'),
      right('Share of all'),
      right('Nearest, slant'),
      right('Level'),
      right('Angle'),
      right('In range'),
      right('In clear view'),
    ],
    rows.slice(0, MOST_LINES).map((passing) => {
      const { kind, share, nearest, inReach, inView, seen } = passing;
      const spot = kind === 'junction';
      return [
        names(passing),
        say.share(share),
        say.distance(nearest.slant),
        say.distance(nearest.level),
        `${decimal(Math.abs(nearest.down), 0)}° ${nearest.down >= 0 ? 'down' : 'up'}`,
        spot ? 'yes' : say.distance(inReach),
        spot ? (seen ? 'yes' : 'no') : say.distance(inView),
      ];
    }),
  );
}

export function laneWords({ lanes }: StandReach, { say, frame }: Facts): string[] {
  const turned = trueDegrees(frame.convergence);
  const told = lanes.map(
    ({ bearing, length, width, cut, area, gains }) =>
      `towards ${turned(bearing)} ${say.distance(length)} by ${say.height(width)}, ${say.distance(cut)} of it and ${say.area(area)} through cover, brings ${say.share(gains)} of all travel into view`,
  );
  return told.length === 0
    ? []
    : [`Lanes to clear, the most travel for the least cutting first: ${told.join('; ')}.`];
}

/** `210°`, turned from the grid to true north. */
const trueDegrees =
  (convergence: number) =>
  (grid: number): string =>
    `${Math.round(grid + convergence + 720) % 360}°`;

function namesOf({ artifacts: { necks, junctions, corridors, travelAreas } }: Facts) {
  const areas = new Map(travelAreas.map(({ id, name }) => [id, name]));
  return ({ kind, id }: Passing): string => {
    if (kind === 'neck') return `Neck ${necks.find((each) => each.id === id)?.rank ?? ''}`;
    if (kind === 'junction') return `Junction ${junctions.find((each) => each.id === id)?.rank ?? ''}`;
    const corridor = corridors.find((each) => each.id === id);
    return corridor ? `${areas.get(corridor.from)} to ${areas.get(corridor.to)}` : 'Corridor';
  };
}
