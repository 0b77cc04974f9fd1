import { SECTORS } from '../../../air/types.ts';
import { type Feature, type FeatureKind, ofKind } from '../../../features/feature.ts';
import { middleOf, pathsOf } from '../../../features/shapes.ts';
import type { Point } from '../../../grid/frame.ts';
import { bearing, trueBearing } from '../../../plan/bearing.ts';
import { landmarksNear } from '../../../plan/landmark.ts';
import { spotOf } from '../../../stands/spot.ts';
import type { Owner } from '../../../travel/types.ts';
import type { ReportPage } from '../../report.ts';
import { CAUTIONS } from '../cautions.ts';
import { type Facts, position } from '../facts.ts';
import { spansInWords } from '../money.ts';
import { regionAbout } from '../region.ts';
import { left, right, table } from '../table.ts';
import { reachTables, sawWords } from './stand-reach.ts';
import { seasonTables, verdictWords } from './stand-season.ts';

const GROUND: Record<Owner, string> = {
  inside: 'your ground',
  'on the line': 'on the property line',
  neighbour: 'a neighbour’s ground',
  unknown: 'whose ground is not known',
};

/** One page a stand, to be taken along. */
export const standCards = (facts: Facts): ReportPage[] =>
  ofKind(facts.artifacts.features, 'stand').map((stand) => standCard(stand, facts));

function standCard(stand: Feature, facts: Facts): ReportPage {
  const { artifacts, settings, frame, say } = facts;
  const at = middleOf(stand.geometry)!;
  const risk = artifacts.standRisks.find(({ subject }) => subject.id === stand.id);
  const reach = artifacts.standReaches.find(({ spot }) => spot.id === stand.id);
  const compared = facts.found.compared?.find(({ id }) => id === stand.id);
  const ruling = facts.found.rulings?.find((each) => each.stand.id === stand.id);
  const { weapon, range, seatKnown, seatHeight } =
    reach?.spot ?? spotOf(stand, '', settings.stands, settings.brief.weapon)!;
  const days = settings.plan.calendar;
  return {
    topic: 'card',
    title: `Stand card: ${stand.name ?? 'unnamed stand'}`,
    map: {
      grids: ['shade'],
      lines: ['contours', 'features', 'corridors', 'necks', 'carries', 'stand-risks'],
      region: regionAbout(stand.geometry, frame.cellSize, 6 * range),
      low: true,
      focus: [stand.id],
      reach: [{ at, radius: range, label: say.distance(range) }],
      ...(reach
        ? {
            sectors: reach.fire.sectors.map(({ from, to, state }) => ({
              at,
              radius: range,
              from,
              to,
              state,
            })),
          }
        : {}),
    },
    paragraphs: [
      risk?.verdict ?? 'Its night air is not judged here.',
      `${stand.status === 'proposed' ? 'Proposed. ' : ''}${position(at)}, ${GROUND[risk?.owner ?? 'unknown']}. Range kept to with a ${weapon}${stand.attributes.weapon === weapon ? '' : ' (not said, taken)'}: ${say.distance(range)}, the ring on the map.`,
      ...(compared ? [verdictWords(compared)] : []),
      ...(ruling ? [ruling.sentence] : []),
      ...(reach ? [sawWords(reach, facts), reach.concealment.sentences.join(' ')] : []),
      `Seat ${seatKnown ? say.height(seatHeight) : `height not given, ${say.height(seatHeight)} taken`}. Season ${spansInWords([days.season])}. ${compared ? '' : `Way in and out: ${wayIn(at, facts)}.`}`,
    ],
    tables: [
      ...(reach ? reachTables(reach, facts) : []),
      ...(compared ? seasonTables(compared, facts) : []),
      ...table(
        'Mapped near it: where each lies is settled on the spot before a shot that way',
        [left('What'), right('Distance'), left('Direction')],
        around(at, facts).map(({ name, distance, from }) => [
          name,
          say.distance(distance),
          trueBearing(from, frame.convergence),
        ]),
      ),
      ...(compared ? [] : windTable(facts)),
    ],
    doubts: [
      ...new Set([...(risk?.doubts ?? []), ...(reach?.doubts ?? [])]),
      compared
        ? 'A forecast wind, visits since and rest are not in this card: ask for the day before a wind is chosen.'
        : 'Which winds keep its scent off deer, and how it is reached unseen: ask in the window before a wind is chosen.',
      'On site: the tree or anchors, what breaks the outline, the line of fire in every direction, powder let go at first light.',
    ],
    cautions: [CAUTIONS.firearms, CAUTIONS.climbing],
  };
}

/** What a shot must not be taken towards, nearest of each. */
const GUARDED: Partial<Record<FeatureKind, string>> = {
  building: 'Building',
  road: 'Road',
  railroad: 'Railroad',
  stand: 'Another stand',
  trail: 'Trail',
};
const GUARD_REACH = 400;
/** A way that ends this near is the stand's, m. */
const WAY_END = 60;

function around(at: Point, { artifacts }: Facts) {
  return (Object.keys(GUARDED) as FeatureKind[])
    .flatMap((kind) => {
      const [mark] = landmarksNear(
        artifacts.features.filter((feature) => feature.kind === kind && !isAt(feature, at)),
        at,
        '',
      );
      return mark && mark.distance <= GUARD_REACH
        ? [
            {
              name: mark.name.startsWith('the ') ? GUARDED[kind]! : mark.name,
              distance: mark.distance,
              from: bearing(at, mark.at),
            },
          ]
        : [];
    })
    .sort((a, b) => a.distance - b.distance);
}

const isAt = ({ geometry }: Feature, [x, y]: Point): boolean => {
  const spot = geometry.type === 'Point' ? middleOf(geometry) : null;
  return spot !== null && Math.hypot(spot[0] - x, spot[1] - y) < 1;
};

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

function windTable({ artifacts, say }: Facts) {
  const parts = artifacts.windSeason?.cruising.parts ?? [];
  return table(
    'Winds of the weeks bucks cruise',
    [left('Part of day'), right('Calm'), left('Commonest, from')],
    parts
      .filter(({ total }) => total > 0)
      .map(({ part, calmShare, sectors }) => [
        part,
        calmShare.share === null ? '–' : say.share(calmShare.share),
        sectors
          .map(({ hours, share }, k) => ({ hours, share: share.share, name: SECTORS[k]! }))
          .sort((a, b) => b.hours - a.hours)
          .slice(0, 4)
          .flatMap(({ name, share }) => (share ? [`${name} ${say.share(share)}`] : []))
          .join(', ') || '–',
      ]),
  );
}
