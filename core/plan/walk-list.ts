import type { Feature } from '../features/feature.ts';
import { ofKind } from '../features/feature.ts';
import { middleOf } from '../features/shapes.ts';
import type { StandRisk } from '../stands/types.ts';
import type { Corridor, Crossing, Neck, PlanTravel, TravelArea } from '../travel/types.ts';
import type { WalkList, WalkSpot } from './types.ts';
import { CHOICES } from './walk-answers.ts';
import { foundAtStops } from './walk-match.ts';
import { inWalkingOrder } from './walk-order.ts';

export interface WalkFacts {
  features: readonly Feature[];
  necks: readonly Neck[];
  crossings: readonly Crossing[];
  corridors: readonly Corridor[];
  travelAreas: readonly TravelArea[];
  standRisks: readonly StandRisk[];
  planTravel: PlanTravel;
}

/** Spots nearer to one another than this are one stop, m. */
const SAME_STOP = 30;
const MOST = 14;

const LOOK: Record<Crossing['kind'], { look: string[]; photograph: string[] }> = {
  fence: {
    look: [
      'Gaps, low spots, hair on the wire, trails that meet it',
      'Height and kind of wire; whether it would hold a deer with fawns',
    ],
    photograph: ['The fence both ways along it', 'Any gap with a hand or tape for scale'],
  },
  barricade: {
    look: ['Where it has sunk or been breached', 'Fresh trails along and through it'],
    photograph: ['Its length from both ends'],
  },
  creek: {
    look: [
      'Depth below each bank and slope of the bank: tape it',
      'Tracks in the mud on both sides; water on the day',
    ],
    photograph: ['Both banks with a pole for scale', 'Up and down stream'],
  },
  road: {
    look: [
      'Tracks and trails at the edge, guard rail, cut or fill',
      'Traffic; where a driver would see a deer',
    ],
    photograph: ['The edge both ways from a safe place'],
  },
  railroad: {
    look: [
      'From the right of way’s edge only: culverts, fence gaps, trails',
      'Bore and footing of any culvert',
    ],
    photograph: ['The culvert or gap from outside the right of way'],
  },
  'ownership line': {
    look: ['Corner pins, blazes, fence or none', 'Trails that cross it'],
    photograph: ['Any corner or blaze'],
  },
};

/**
 * Where to walk before anything is promised: necks that an assumption moves, crossings, barricades that do not hold,
 * bedding found from above, and stands the elevation cannot judge, those on which most hinges kept, in the order a
 * person would walk them from the parking.
 */
export function walkListOf(facts: WalkFacts): WalkList {
  const candidates = [
    ...softNecks(facts),
    ...crossingSpots(facts),
    ...openBarricades(facts),
    ...foundBedding(facts),
    ...unjudgedStands(facts),
  ].sort((a, b) => (b.hinges ?? -1) - (a.hinges ?? -1));
  const kept: Candidate[] = [];
  for (const spot of candidates) {
    if (spot.elsewhere || kept.length >= MOST) continue;
    const near = kept.find(({ at }) => Math.hypot(at[0] - spot.at[0], at[1] - spot.at[1]) < SAME_STOP);
    if (near) {
      near.look.push(...spot.look.filter((line) => !near.look.includes(line)));
      near.photograph.push(...spot.photograph.filter((line) => !near.photograph.includes(line)));
    } else kept.push({ ...spot, look: [...spot.look], photograph: [...spot.photograph] });
  }
  const park = ofKind(facts.features, 'access').find(({ geometry }) => geometry.type === 'Point');
  const start = park ? middleOf(park.geometry) : null;
  const { order, length } = inWalkingOrder(
    kept.map(({ at }) => at),
    start,
  );
  const found = foundAtStops(facts.features, kept);
  return {
    spots: order.map((index, k) => {
      const { elsewhere: _, ...spot } = kept[index]!;
      return { ...spot, number: k + 1, found: found.get(spot.id) ?? null };
    }),
    start,
    startName: park?.name ?? 'the first stop',
    length,
    elsewhere: candidates
      .filter(({ elsewhere }) => elsewhere)
      .slice(0, 8)
      .map(({ title, hinges }) => ({ title, hinges })),
  };
}

type Candidate = Omit<WalkSpot, 'number' | 'found'> & { elsewhere: boolean };

const softNecks = ({ necks }: WalkFacts): Candidate[] =>
  necks
    .filter(({ firm }) => !firm)
    .map((neck) => ({
      id: `walk-neck-${neck.id}`,
      at: neck.at,
      title: `Neck ${neck.rank}`,
      hinges: neck.spread.high - neck.spread.low,
      why: 'Its share moves with what was assumed about cover and footing.',
      look: [
        'How thick it is from knee to chest: can a deer be seen at 20 steps',
        'Trails, droppings, rubs and which way they point',
      ],
      photograph: ['Through the neck both ways at deer height', 'Every trail with a boot for scale'],
      choices: CHOICES.cover,
      elsewhere: neck.owner === 'neighbour',
    }));

const crossingSpots = ({ crossings, features }: WalkFacts): Candidate[] => {
  const names = new Map(features.map(({ id, name }) => [id, name]));
  return crossings.map((crossing) => ({
    id: `walk-crossing-${crossing.id}`,
    at: crossing.at,
    title: `Crossing of ${
      // The boundary bears the property's name, which names no line.
      crossing.kind === 'ownership line'
        ? 'the property line'
        : (names.get(crossing.feature) ?? `the ${crossing.kind}`)
    }`,
    hinges: crossing.share,
    why: 'All travel here stands or falls with whether a deer can cross.',
    ...LOOK[crossing.kind],
    choices: CHOICES.crossing(crossing.kind),
    elsewhere: crossing.owner === 'neighbour',
  }));
};

const openBarricades = ({ planTravel }: WalkFacts): Candidate[] =>
  planTravel.barricades
    .filter(({ holds }) => !holds)
    .flatMap((check) =>
      check.ends.map(({ at, side, gained }) => ({
        id: `walk-barricade-${check.feature}-${side}`,
        at,
        title: `The ${side} end of “${check.name}”`,
        hinges: gained,
        why: 'As drawn deer go round this end.',
        look: ['What the end can be tied to: a bank, a fence, a thicket', 'Trees enough to carry it on'],
        photograph: ['From the end on along where it would go on'],
        choices: CHOICES.end,
        elsewhere: false,
      })),
    );

const foundBedding = ({ travelAreas, corridors }: WalkFacts): Candidate[] =>
  travelAreas
    .filter(({ source, kind }) => source === 'computed' && (kind === 'bedding' || kind === 'block'))
    .map((area) => ({
      id: `walk-area-${area.id}`,
      at: area.centre,
      title: area.name,
      hinges: corridors
        .filter(({ from, to }) => from === area.id || to === area.id)
        .reduce((sum, { share }) => sum + share, 0),
      why: `It counts as bedding because it looks thick from above; travel that ends here hangs on that. ${(area.reasons ?? []).join(' ')}`.trim(),
      look: [
        'From the edge, with the wind right: beds, hair, thickness at deer height',
        'Do not walk through it in season',
      ],
      photograph: ['From the edge looking in, at deer height'],
      choices: CHOICES.bedding,
      elsewhere: false,
    }));

const unjudgedStands = ({ standRisks }: WalkFacts): Candidate[] =>
  standRisks
    .filter(({ subject, level }) => subject.type === 'stand' && (level === 'unknown' || level === 'high'))
    .map((risk) => ({
      id: `walk-${risk.id}`,
      at: risk.at,
      title: risk.subject.name,
      hinges: null,
      why:
        risk.level === 'unknown'
          ? 'The elevation cannot judge its night air.'
          : 'By the map its night air is bad.',
      look: [
        'At first light on a clear still morning: let powder or milkweed go and watch it',
        'The tree, and what breaks the outline',
      ],
      photograph: ['From the seat in eight directions'],
      choices: CHOICES.air,
      elsewhere: risk.owner === 'neighbour',
    }));
