import type { Grid, TypedArray } from '../../core/grid/frame.ts';
import { Problem } from '../../core/grid/problem.ts';
import type { OverlayKind, OverlaySummary } from './contract.ts';
import type { OpenProperty } from './open-property.ts';

/** A grid made on demand, kept until newer ones of its kind come or the property is closed. */
export interface Overlay {
  kind: OverlayKind;
  grid: Grid<TypedArray>;
}

/** How many of a kind are kept where it is not the newest alone: the hours of a day, which a clock plays through. */
const KEPT: Partial<Record<OverlayKind, number>> = { 'air-layer': 30, 'air-pools': 30, scent: 30 };

let made = 0;

/** Keeps a grid for painting and names it. */
export function keepOverlay(
  property: OpenProperty,
  kind: OverlayKind,
  title: string,
  grid: Grid<TypedArray>,
): OverlaySummary {
  const id = `${kind}-${++made}`;
  property.overlays.set(id, { kind, grid });
  const same = [...property.overlays].filter(([, other]) => other.kind === kind);
  for (const [old] of same.slice(0, Math.max(0, same.length - (KEPT[kind] ?? 1))))
    property.overlays.delete(old);
  return { id, kind, title };
}

/** @throws Problem when newer ones of its kind have come */
export function overlayOf(property: OpenProperty, id: string): Overlay {
  const overlay = property.overlays.get(id);
  if (!overlay) throw new Problem('This picture is no longer kept.', { fix: 'Ask for it again.' });
  return overlay;
}
