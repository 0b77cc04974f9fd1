import type { Grid, TypedArray } from '../../core/grid/frame.ts';
import { Problem } from '../../core/grid/problem.ts';
import type { OverlayKind, OverlaySummary } from './contract.ts';
import type { OpenProperty } from './open-property.ts';

/** A grid made on demand, kept until a newer one of its kind comes or the property is closed. */
export interface Overlay {
  id: string;
  grid: Grid<TypedArray>;
}

let made = 0;

/** Keeps a grid for painting and names it. */
export function keepOverlay(
  property: OpenProperty,
  kind: OverlayKind,
  title: string,
  grid: Grid<TypedArray>,
): OverlaySummary {
  const id = `${kind}-${++made}`;
  property.overlays.set(kind, { id, grid });
  return { id, kind, title };
}

/** @throws Problem when a newer one of its kind has come */
export function overlayOf(property: OpenProperty, id: string): { kind: OverlayKind; overlay: Overlay } {
  for (const [kind, overlay] of property.overlays) if (overlay.id === id) return { kind, overlay };
  throw new Problem('This picture is no longer kept.', { fix: 'Ask for it again.' });
}
