import type { CoverSource } from '../cover/types.ts';
import { type Feature, ofKind } from '../features/feature.ts';
import type { Frame } from '../grid/frame.ts';
import { WIDEST_CELL } from './banks.ts';
import { WIND_UNKNOWN } from './beds.ts';
import type { TravelPair } from './flow.ts';
import type { Neck, TravelArea } from './types.ts';

/** Above this cell size a fence gap, a creek bed or a strip of brush is smaller than a cell, m. */
const COARSE = 12;

/** What the travel results do not know, in plain words. */
export function travelDoubts(facts: {
  frame: Frame;
  features: readonly Feature[];
  coverSource: CoverSource;
  areas: readonly TravelArea[];
  cutOff: readonly TravelPair[];
  necks: readonly Neck[];
  /** Cells of the flow and of the runs, in property cells across. */
  flowFactor: number;
  runFactor: number;
  /** Mean of what the runs' grid gives for the necks' shares less what the flow's does. */
  bias: number;
  /** Whether ground that reaches twice as far was tried. */
  marginDoubled: boolean;
  /** How well the passage foretells imported sightings; null without any. */
  sightings: { seen: number; areaUnderCurve: number; inTopTenth: number; verdict: string } | null;
}): string[] {
  const { frame, features, coverSource, areas, cutOff, necks } = facts;
  const doubts = [
    'No deer were counted: shares are of travel in the model, between the areas named, not of animals.',
  ];
  const { sightings } = facts;
  if (sightings && sightings.seen > 0)
    doubts.push(
      `Against ${sightings.seen} imported sightings: ${Math.round(sightings.inTopTenth * 100)}% lie in the tenth of the ground with most passage (luck gives 10%), area under the curve ${sightings.areaUnderCurve.toFixed(2)} (luck gives 0.50). ${sightings.verdict}`,
    );
  else if (sightings) doubts.push(sightings.verdict);
  if (coverSource === 'terrain alone')
    doubts.push(
      'Travel rests on terrain and drawn features alone; cover that draws or stops deer is not seen.',
    );
  if (areas.every(({ source }) => source === 'computed'))
    doubts.push(
      'Nobody drew bedding or food: the areas travel runs between were chosen by the program. Draw your own to replace them.',
    );
  if (areas.some(({ reasons = [] }) => reasons.includes(WIND_UNKNOWN)))
    doubts.push(
      'No prevailing wind is known, so likely bedding was chosen without it: deer lie with the wind at their back.',
    );
  if (areas.some(({ kind }) => kind === 'edge'))
    doubts.push('Few areas were found, so the edges of the map stand for travel from beyond it.');
  if (areas.length < 2) doubts.push('Fewer than two areas were found, so no travel could be computed.');
  const names = new Map(areas.map(({ id, name }) => [id, name]));
  for (const { from, to } of cutOff)
    doubts.push(`No way joins ${names.get(from)} and ${names.get(to)}; their travel is left out.`);
  if (ofKind(features, 'fence').length === 0)
    doubts.push('No fences are known here; a fence moves travel as much as a field does.');
  if (frame.cellSize > WIDEST_CELL && ofKind(features, 'creek').length > 0)
    doubts.push(
      'The cells are too wide to show the banks of a creek: all along it they count as usual ones.',
    );
  if (frame.cellSize > COARSE)
    doubts.push(
      'The cells are too coarse to show a gap, a creek bank or a strip of cover a deer uses: necks here are only leads for a closer look.',
    );
  if (facts.flowFactor > 1)
    doubts.push(
      `Flow was solved on cells ${facts.flowFactor} times as wide as the map's; passages narrower than that are blurred, drawn lines and gaps are not.`,
    );
  if (necks.some(({ spread }) => spread.runs > 0) && facts.runFactor > facts.flowFactor) {
    const points = Math.round(100 * facts.bias);
    doubts.push(
      `The spread comes from ${necks[0]!.spread.runs} runs on cells ${facts.runFactor} times as wide; that grid gives shares ${points === 0 ? 'within half a percent point' : `${Math.abs(points)} percent points ${points > 0 ? 'higher' : 'lower'}`} on average, which is corrected for.`,
    );
  }
  if (necks.length > 0)
    doubts.push(
      'How much of a neck’s travel finds a way round once it is closed hangs on the cells too: between cells of 5 and of 10 m it differed by up to 18 percent points on the ground this was tried on.',
    );
  if (necks.some(({ spread }) => spread.runs > 0))
    doubts.push(
      facts.marginDoubled
        ? 'Whether a neck hangs on the edge of the map was tried with half the margin and with twice as wide a one, the latter on wider cells.'
        : 'Whether a neck hangs on the edge of the map was tried with half the margin the map has, not with ground beyond it: files that reach farther would tell more.',
    );
  return doubts;
}
