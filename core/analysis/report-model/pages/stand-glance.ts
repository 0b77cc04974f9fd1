import { type Feature, ofKind } from '../../../features/feature.ts';
import { pathsOf } from '../../../features/shapes.ts';
import { compassLetters } from '../../../features/units.ts';
import type { Point } from '../../../grid/frame.ts';
import type { ComparedStand } from '../../../stands/compare.ts';
import type { Ruling } from '../../../stands/ruling-types.ts';
import { spotOf } from '../../../stands/spot.ts';
import type { StandReach } from '../../../stands/types.ts';
import type { Owner } from '../../../travel/types.ts';
import type { ReportTable } from '../../report.ts';
import { type Facts, position } from '../facts.ts';
import { spansInWords } from '../money.ts';
import { left } from '../table.ts';
import { banded, weeklyOf } from './stand-season.ts';

const GROUND: Record<Owner, string> = {
  inside: 'your ground',
  'on the line': 'on the property line',
  neighbour: 'a neighbour’s ground',
  unknown: 'whose ground is not known',
};

/** What is known of one stand, as far as it was computed. */
export interface KnownStand {
  stand: Feature;
  at: Point;
  owner: Owner;
  reach: StandReach | undefined;
  compared: ComparedStand | undefined;
  ruling: Ruling | undefined;
}

/** The card's short facts, each in a line or two. */
export function glance(known: KnownStand, facts: Facts): ReportTable {
  const { stand, at, owner, reach, compared, ruling } = known;
  const { settings, say } = facts;
  const { weapon, range, seatKnown, seatHeight } =
    reach?.spot ?? spotOf(stand, '', settings.stands, settings.brief.weapon)!;
  return {
    caption: stand.status === 'proposed' ? 'Proposed stand' : 'This stand',
    columns: [left('What'), left('Here')],
    rows: [
      ['Where', `${position(at)}, ${GROUND[owner]}`],
      ['Season', spansInWords([settings.plan.calendar.season])],
      ...(compared ? hoursRows(compared) : []),
      ...(ruling ? [['Ruling', ruling]] : []),
      ...(compared ? [] : [['Way in and out', wayIn(at, facts)]]),
      [
        'Ring, range kept to',
        `${say.distance(range)} with a ${weapon}${stand.attributes.weapon === weapon ? '' : ' (not said, taken)'}`,
      ],
      ['Seat', seatKnown ? say.height(seatHeight) : `height not given, ${say.height(seatHeight)} taken`],
      ...(reach ? reachRows(reach, facts) : []),
    ],
  };
}

function hoursRows({ clean, usable, verdict }: ComparedStand): string[][] {
  return [
    ['Hours a week', verdict.hours ? weeklyOf(verdict.hours, usable) : 'not known without a wind record'],
    ['Clean share', clean ? `${banded(clean)} of all travel, when hunted` : 'none in any wind'],
  ];
}

function reachRows(reach: StandReach, { say, frame }: Facts): string[][] {
  const { area, clearArea, leaves, shareInReach, shareInView, directions } = reach;
  const [best] = directions.toSorted((a, b) => b.clear - a.clear);
  const ofTravel = (share: number | null): string =>
    share === null ? 'share of travel not known' : `${say.share(share)} of all travel`;
  return [
    ...(area === 0
      ? [['In range and view', 'the map is too coarse to say']]
      : [
          ['In range', `${say.area(area)}, ${ofTravel(shareInReach)}`],
          [
            'In clear view',
            `${say.area(clearArea)}, ${ofTravel(shareInView)}, leaves ${leaves === 'on' ? 'on' : 'down'}`,
          ],
        ]),
    [
      'Longest clear line',
      best && best.clear > 0
        ? `${say.distance(best.clear)} towards ${compassLetters(best.bearing + frame.convergence)}`
        : 'none',
    ],
  ];
}

/** A way that ends this near is the stand's, m. */
const WAY_END = 60;

function wayIn(at: Point, { artifacts, say }: Facts): string {
  const ways = ofKind(artifacts.features, 'access').flatMap((way) =>
    pathsOf(way.geometry).map((path) => ({
      name: way.name ?? 'the way drawn',
      distance: Math.min(...[path[0]!, path.at(-1)!].map(([x, y]) => Math.hypot(x - at[0], y - at[1]))),
    })),
  );
  const [near] = ways.sort((a, b) => a.distance - b.distance);
  return near && near.distance < WAY_END
    ? `${near.name}, ending ${say.distance(near.distance)} off`
    : 'none drawn: ask for one under Stands';
}
