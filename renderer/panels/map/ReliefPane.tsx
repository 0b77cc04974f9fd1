import { effect, signal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { type Block, heightAt } from '../../map/relief/block.ts';
import { isHidden, levelOf, pick, project, termsOf } from '../../map/relief/camera.ts';
import { drapeOf } from '../../map/relief/drape.ts';
import { type Drape, renderBlock } from '../../map/relief/render.ts';
import { hang } from '../../map/relief/stacking.ts';
import { shownMarks, shownPaint } from '../../map/stage-map.ts';
import { rest } from '../../state/pointer.ts';
import {
  block,
  camera,
  look,
  moveBy,
  reliefOpen,
  showProperty,
  turnBy,
  viewSize,
} from '../../state/relief.ts';
import { report, summary, units } from '../../state/session.ts';
import { shownTheme } from '../../state/theme.ts';
import { selection } from '../../state/view.ts';
import { scale } from '../Instruments.tsx';
import { lookWords, ReliefTools } from './ReliefTools.tsx';
import { reliefFlags } from './relief-flags.ts';

/** Width of the edge round the map, px. */
const BAND = 22;
/** A frame longer than this, ms, is drawn at half size while the view is dragged. */
const SLOW = 28;

const drapes = signal<Drape[] | null>(null);
const moving = signal(false);

/** The property as a block looked at from an angle, with what the map shows laid over it. */
export function ReliefPane() {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const element = canvas.current!;
    const stops = [watchSize(element), keepDraped(element), fitOnce(), keepDrawn(element)];
    return () => {
      for (const stop of stops) stop();
    };
  }, []);
  const made = block.value;
  const now = camera.value;
  return (
    <div class="relief">
      <div
        class="relief-view"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys turn the block
        tabIndex={0}
        role="application"
        aria-label={`The property as a block. ${now ? lookWords(now) : ''} Arrow keys turn and tilt it, with Shift they move it, plus and minus scale it.`}
        onKeyDown={keys}
        {...hand}
      >
        <canvas ref={canvas} />
      </div>
      {(!made || !drapes.value) && (
        <p class="relief-wait" role="status">
          Laying the map over the ground…
        </p>
      )}
      {made && now && drapes.value && <Flags block={made} />}
      <ReliefTools />
    </div>
  );
}

function watchSize(element: HTMLCanvasElement): () => void {
  const observer = new ResizeObserver(() => {
    viewSize.value = { width: element.clientWidth, height: element.clientHeight };
  });
  observer.observe(element);
  return () => observer.disconnect();
}

/** The picture over the ground follows the layers, and the choice, of the stage. */
function keepDraped(element: HTMLCanvasElement): () => void {
  let latest = 0;
  const stop = effect(() => {
    const property = summary.value;
    if (!property) return;
    const [paint, marks] = [shownPaint(property), shownMarks(property)];
    const context = { units: units.value, chosen: selection.value };
    void shownTheme.value;
    latest += 1;
    const mine = latest;
    const paper = getComputedStyle(element).getPropertyValue('--sheet-2').trim();
    drapeOf(property.frame, paint, marks, context, paper).then(
      (made) => {
        if (mine === latest) drapes.value = made;
      },
      (reason) => {
        if (mine === latest) report(reason);
      },
    );
  });
  return () => {
    latest += 1;
    stop();
    drapes.value = null;
  };
}

/** The whole block in the view, the first time there is one. */
const fitOnce = (): (() => void) =>
  effect(() => {
    const made = block.value;
    if (!made || viewSize.value.width === 0 || camera.value) return;
    showProperty();
  });

function keepDrawn(element: HTMLCanvasElement): () => void {
  let asked = 0;
  let took = 0;
  const pen = element.getContext('2d')!;
  const draw = () => {
    const [made, now, levels] = [block.peek(), camera.peek(), drapes.peek()];
    const full = viewSize.peek();
    if (!made || !now || !levels || full.width === 0) return;
    const began = performance.now();
    const shrink = moving.peek() && took > SLOW ? 2 : 1;
    const target = { width: Math.ceil(full.width / shrink), height: Math.ceil(full.height / shrink) };
    if (element.width !== target.width || element.height !== target.height) {
      element.width = target.width;
      element.height = target.height;
    }
    const image = pen.createImageData(target.width, target.height);
    const shrunk = { ...now, scale: now.scale / shrink };
    renderBlock(
      new Uint32Array(image.data.buffer),
      target,
      made,
      shrunk,
      levelFor(levels, made, shrunk.scale),
      wallTones(element),
    );
    pen.putImageData(image, 0, 0);
    took = (performance.now() - began) * shrink * shrink;
    scale.value = 1 / now.scale;
  };
  const stop = effect(() => {
    void [block.value, camera.value, drapes.value, viewSize.value, moving.value, shownTheme.value];
    cancelAnimationFrame(asked);
    asked = requestAnimationFrame(draw);
  });
  return () => {
    stop();
    cancelAnimationFrame(asked);
  };
}

/** The coarsest picture that is still as fine as the view. */
function levelFor(levels: readonly Drape[], made: Block, pixelsPerMetre: number): Drape {
  const wanted = made.columns * made.cell * pixelsPerMetre;
  return levels.findLast(({ width }) => width >= wanted * 0.9) ?? levels[0]!;
}

/** Tones of the cut faces, as the canvas packs them. */
function wallTones(element: HTMLElement): [number, number] {
  const style = getComputedStyle(element);
  return ['--wall', '--wall-2'].map((name) => {
    const [r, g, b] = [1, 3, 5].map((at) =>
      Number.parseInt(
        style
          .getPropertyValue(name)
          .trim()
          .slice(at, at + 2),
        16,
      ),
    ) as [number, number, number];
    return ((255 << 24) | (b << 16) | (g << 8) | r) >>> 0;
  }) as [number, number];
}

/** Numbered flags and names that stand on the ground; those behind a rise are pale. */
function Flags({ block: made }: { block: Block }) {
  const now = camera.value!;
  const full = viewSize.value;
  const terms = termsOf(now, full, levelOf(made));
  const inView = reliefFlags.value.flatMap((flag) => {
    const { x, y } = project(now, terms, flag.at, heightAt(made, ...flag.at));
    const wide = flag.short.length < 3 ? 26 : 12 + 7.2 * flag.short.length;
    return x >= 0 && x <= full.width && y >= 30 && y <= full.height ? [{ flag, x, y, wide }] : [];
  });
  return (
    <>
      {hang(inView).map(({ flag: { id, type, at, words, short, flagClass }, x, y, lift }) => {
        const hidden = isHidden(made, now, full, at);
        return (
          <button
            key={`${type} ${id}`}
            type="button"
            class={`relief-flag ${flagClass} ${hidden ? 'behind' : ''}`}
            style={{ left: `${BAND + x}px`, top: `${BAND + y - lift}px`, '--stem': `${lift}px` }}
            onClick={() => {
              selection.value = { type, id };
            }}
          >
            <span aria-hidden="true">{short}</span>
            <span class="unseen">
              {words}
              {hidden ? ', behind a rise from here' : ''}
            </span>
          </button>
        );
      })}
    </>
  );
}

function keys(event: KeyboardEvent): void {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const now = camera.peek();
  if (!now) return;
  const [right, away] =
    { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key] ?? [];
  if (right !== undefined && away !== undefined) {
    if (event.shiftKey) moveBy(60 * right, 60 * away);
    else turnBy(10 * right, 5 * away);
  } else if (event.key === '+' || event.key === '=') look({ scale: now.scale * 1.25 });
  else if (event.key === '-') look({ scale: now.scale / 1.25 });
  else if (event.key === 'Home') showProperty();
  else if (event.key === 'Escape') reliefOpen.value = false;
  else return;
  event.preventDefault();
  event.stopPropagation();
}

let held: [number, number] | null = null;

function letGo(): void {
  held = null;
  moving.value = false;
}

/** Drag turns and tilts, with Shift or another button it moves; the wheel scales; rest to read. */
const hand = {
  onPointerDown(event: PointerEvent) {
    (event.currentTarget as HTMLElement).setPointerCapture(event.pointerId);
    held = [event.clientX, event.clientY];
    moving.value = true;
  },
  onPointerMove(event: PointerEvent) {
    const made = block.peek();
    const now = camera.peek();
    if (!made || !now) return;
    if (!held) {
      const box = (event.currentTarget as HTMLElement).getBoundingClientRect();
      rest(pick(made, now, viewSize.peek(), [event.clientX - box.left, event.clientY - box.top]));
      return;
    }
    const [dx, dy] = [event.clientX - held[0], event.clientY - held[1]];
    held = [event.clientX, event.clientY];
    if (event.shiftKey || event.buttons > 1) moveBy(-dx, dy);
    else turnBy(-dx * 0.4, dy * 0.3);
  },
  onPointerUp: letGo,
  onPointerCancel: letGo,
  onPointerLeave: () => rest(null),
  onContextMenu: (event: Event) => event.preventDefault(),
  onWheel(event: WheelEvent) {
    event.preventDefault();
    const now = camera.peek();
    if (now) look({ scale: now.scale * 1.0015 ** -event.deltaY });
  },
};
