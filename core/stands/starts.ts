import { cellsAlong, cellsInside } from '../features/cells.ts';
import { type Feature, ofKind } from '../features/feature.ts';
import { middleOf } from '../features/shapes.ts';
import { cellAt, type Frame, type Point } from '../grid/frame.ts';
import { footOn } from '../travel/barriers.ts';
import { boundaryRings } from '../travel/owner.ts';

/** A place a way starts from. */
export interface Start {
  name: string;
  at: Point;
  cells: number[];
}

/** A gate this near the property line lets people in, m. */
const AT_LINE = 25;

/**
 * Where people come from: places of access and gates in the property line; houses where none is mapped.
 *
 * @param from the one feature to start from, or null; where it is not there any more all count
 */
export function startsOf(frame: Frame, features: readonly Feature[], from: string | null): Start[] {
  const existing = features.filter(({ status }) => status === 'existing');
  const chosen = existing.filter(({ id }) => id === from).flatMap((feature) => startAt(frame, feature));
  if (chosen.length > 0) return chosen;
  const rings = boundaryRings(existing);
  const gates = ofKind(existing, 'gap').filter(({ attributes, geometry }) => {
    const at = middleOf(geometry);
    return (
      attributes.type === 'gate' &&
      at &&
      rings.some((ring) => (footOn(ring, at)?.distance ?? Infinity) <= AT_LINE)
    );
  });
  const starts = [...ofKind(existing, 'access'), ...gates].flatMap((feature) => startAt(frame, feature));
  return starts.length > 0
    ? starts
    : ofKind(existing, 'building').flatMap((feature) => startAt(frame, feature));
}

function startAt(frame: Frame, { kind, name, geometry }: Feature): Start[] {
  const at = middleOf(geometry);
  if (!at) return [];
  const cells: number[] = [];
  cellsInside(frame, geometry, (cell) => cells.push(cell));
  if (geometry.type !== 'Point') cellsAlong(frame, geometry, frame.cellSize / 2, (cell) => cells.push(cell));
  const here = cellAt(frame, ...at);
  if (cells.length === 0 && here >= 0) cells.push(here);
  return cells.length > 0 ? [{ name: name ?? `the ${kind}`, at, cells }] : [];
}
