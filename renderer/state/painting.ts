import { effect, signal } from '@preact/signals';
import type { Point } from '../../core/grid/frame.ts';
import type { RequestParams } from '../../electron/service/contract.ts';
import { aim, stopAim } from './aiming.ts';
import { drawing, took } from './editing.ts';
import { measureTool, putMeasureAway } from './measuring.ts';
import { propertyKey, summary, tell } from './session.ts';
import { selection } from './view.ts';

/** Painting cover as it was seen: a brush, and strokes that are on their way into the property. */

export type PaintedCover = RequestParams<'cover.paint'>['cover'];

export const brush = signal<{ cover: PaintedCover; width: number }>({ cover: 'brush', width: 27.432 });
/** Whether the brush is in the hand. */
export const painting = signal(false);
/** Strokes not taken in yet, drawn as they were made. */
export const strokes = signal<readonly { path: readonly Point[]; width: number }[]>([]);

export function takeUpBrush(): void {
  drawing.value = null;
  putMeasureAway();
  stopAim();
  selection.value = null;
  painting.value = true;
}

export const putBrushDown = (): void => {
  painting.value = false;
};

export async function paint(path: readonly Point[]): Promise<void> {
  const { cover, width } = brush.peek();
  const stroke = { path, width };
  strokes.value = [...strokes.peek(), stroke];
  const answer = await tell('cover.paint', { path: [...path], width, cover });
  strokes.value = strokes.peek().filter((each) => each !== stroke);
  if (!answer) return;
  summary.value = answer;
  took('Painted. Undo takes the stroke back.');
}

// One tool at a time is in the hand.
effect(() => {
  if (drawing.value || measureTool.value || aim.value) painting.value = false;
});
effect(() => {
  void propertyKey.value;
  painting.value = false;
  strokes.value = [];
});
