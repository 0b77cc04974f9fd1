import { SECTORS } from '../../../air/types.ts';
import { type Feature, type FeatureKind, ofKind } from '../../../features/feature.ts';
import { middleOf, pathsOf } from '../../../features/shapes.ts';
import type { Point } from '../../../grid/frame.ts';
import { bearing, trueBearing } from '../../../plan/bearing.ts';
import { landmarksNear } from '../../../plan/landmark.ts';
import { WEAPONS } from '../../../stands/types.ts';
import type { ReportPage } from '../../report.ts';
import { CAUTIONS } from '../cautions.ts';
import { type Facts, position, WHOSE } from '../facts.ts';
import { spansInWords } from '../money.ts';
import { regionAbout } from '../region.ts';
import { left, right, table } from '../table.ts';

/** One page a stand, to be taken along. */
export const standCards = (facts: Facts): ReportPage[] =>
  ofKind(facts.artifacts.features, 'stand').map((stand) => standCard(stand, facts));

function standCard(stand: Feature, facts: Facts): ReportPage {
  const { artifacts, settings, frame, say } = facts;
  const at = middleOf(stand.geometry)!;
  const risk = artifacts.standRisks.find(({ subject }) => subject.id === stand.id);
  const { seatHeight, weapon, range } = stand.attributes;
  const carried = WEAPONS.find((each) => each === weapon) ?? settings.brief.weapon ?? 'bow';
  const reach = typeof range === 'number' && range > 0 ? range : settings.stands.range[carried];
  const days = settings.plan.calendar;
  return {
    topic: 'card',
    title: `Stand card: ${stand.name ?? 'unnamed stand'}`,
    map: {
      grids: ['shade'],
      lines: ['contours', 'features', 'corridors', 'necks', 'carries', 'stand-risks'],
      region: regionAbout(stand.geometry, frame.cellSize, 6 * reach),
      low: true,
      focus: [stand.id],
      reach: [{ at, radius: reach, label: say.distance(reach) }],
    },
    paragraphs: [
      risk?.verdict ?? 'Its night air is not judged here.',
      `${stand.status === 'proposed' ? 'Proposed. ' : ''}${position(at)}, ${WHOSE[risk?.owner ?? 'unknown']} ground. Range kept to with a ${carried}${weapon === carried ? '' : ' (not said, taken)'}: ${say.distance(reach)}, the ring on the map.`,
      `Seat ${typeof seatHeight === 'number' ? say.height(seatHeight) : 'height not given'}. Season ${spansInWords([days.season])}. Way in and out: ${wayIn(at, facts)}.`,
    ],
    tables: [
      ...table(
        'Directions closed until settled on the spot',
        [left('What'), right('Distance'), left('Direction')],
        around(at, facts).map(({ name, distance, from }) => [
          name,
          say.distance(distance),
          trueBearing(from, frame.convergence),
        ]),
      ),
      ...windTable(facts),
    ],
    doubts: [
      ...(risk?.doubts ?? []),
      'Which winds keep its scent off deer: ask in the window before a wind is chosen.',
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
