import { SECTORS } from '../../../air/types.ts';
import { type Feature, type FeatureKind, ofKind } from '../../../features/feature.ts';
import { middleOf } from '../../../features/shapes.ts';
import type { Point } from '../../../grid/frame.ts';
import { bearing, trueBearing } from '../../../plan/bearing.ts';
import { landmarksNear } from '../../../plan/landmark.ts';
import { spotOf } from '../../../stands/spot.ts';
import type { StandReach } from '../../../stands/types.ts';
import type { ReportPage } from '../../report.ts';
import { CAUTIONS } from '../cautions.ts';
import type { Facts } from '../facts.ts';
import { regionAbout } from '../region.ts';
import { left, right, table } from '../table.ts';
import { glance } from './stand-glance.ts';
import { fireTable, laneWords, passingTable } from './stand-reach.ts';
import { againstWays, lostWords, seasonTable } from './stand-season.ts';

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
  const { range } = reach?.spot ?? spotOf(stand, '', settings.stands, settings.brief.weapon)!;
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
    beside: glance(
      { stand, at, owner: risk?.owner ?? 'unknown', reach, compared, ruling: ruling?.ruling },
      facts,
    ),
    paragraphs: [
      risk?.verdict ?? 'Its night air is not judged here.',
      ...(compared ? lostWords(compared) : []),
      ...(ruling ? [ruling.sentence] : []),
      ...(reach ? [reach.concealment.sentences.join(' '), ...laneWords(reach, facts)] : []),
      ...nearWords(at, facts),
      ...(compared ? againstWays(compared, facts) : []),
      `Check on site: ${toCheck(reach).join('; ')}.`,
    ],
    // The most wanted first: what has no room on the card stands in the annex.
    tables: [
      ...(reach ? fireTable(reach, facts) : []),
      ...(compared ? seasonTable(compared, facts) : windTable(facts)),
      ...(reach ? passingTable(reach, facts) : []),
    ],
    doubts: [
      ...new Set([...(risk?.doubts ?? []), ...(reach?.doubts ?? [])]),
      compared
        ? 'A forecast wind, visits since and rest are not in this card: ask for the day before a wind is chosen.'
        : 'Which winds keep its scent off deer, and how it is reached unseen: ask in the window before a wind is chosen.',
    ],
    cautions: [CAUTIONS.firearms, CAUTIONS.climbing],
  };
}

const toCheck = (reach: StandReach | undefined): string[] => [
  'the tree or anchors',
  'what breaks the outline',
  'the line of fire in every direction',
  ...(reach && reach.lanes.length > 0 ? ['the lanes, walked before they are cut'] : []),
  'powder let go at first light',
];

/** What a shot must not be taken towards, nearest of each. */
const GUARDED: Partial<Record<FeatureKind, string>> = {
  building: 'Building',
  road: 'Road',
  railroad: 'Railroad',
  stand: 'Another stand',
  trail: 'Trail',
};
const GUARD_REACH = 400;
function nearWords(at: Point, facts: Facts): string[] {
  const near = around(at, facts).map(
    ({ name, distance, from }) =>
      `${name} ${facts.say.distance(distance)} ${trueBearing(from, facts.frame.convergence)}`,
  );
  return near.length === 0
    ? []
    : [`Mapped near it, settled on the spot before a shot that way: ${near.join('; ')}.`];
}

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
