import { useEffect, useRef, useState } from 'preact/hooks';
import type { Point } from '../../../core/grid/frame.ts';
import type { PinnedPicture } from '../../../electron/service/contract.ts';
import { drawnOf, moving, takeSpot, waiting } from '../../state/pictures.ts';
import { shownTheme } from '../../state/theme.ts';

/** What of the picture is in view: the picture's pixel at the middle, and screen pixels for one of them. */
interface Look {
  middle: Point;
  scale: number;
}

/** A press that moves less is a click, px. */
const STILL = 4;
const STEP = 30;
const MOST_ZOOM = 8;

/** The picture itself: drag and wheel to look closer, click to take a spot; by keys the cross in the middle takes it. */
export function PictureView({ picture }: { picture: PinnedPicture }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const [look, setLook] = useState<Look | null>(null);
  const drawn = drawnOf(picture.id);
  const theme = shownTheme.value;
  const now = (): Look => look ?? wholeOf(canvas.current, picture);

  useEffect(() => setLook(null), [picture.id]);
  useEffect(() => {
    const element = canvas.current;
    if (!element) return;
    const draw = () => drawn && paint(element, picture, drawn, look ?? wholeOf(element, picture));
    draw();
    const watch = new ResizeObserver(draw);
    watch.observe(element);
    return () => watch.disconnect();
  }, [drawn, look, picture, waiting.value, moving.value, theme]);

  const zoom = (by: number, at: Point | null = null) => {
    const element = canvas.current!;
    const before = now();
    const least = wholeOf(element, picture).scale;
    const scale = Math.min(MOST_ZOOM, Math.max(least, before.scale * by));
    const [x, y] = at ?? [element.clientWidth / 2, element.clientHeight / 2];
    const held = spotAt(element, before, [x, y]);
    const middle: Point = [
      held[0] - (x - element.clientWidth / 2) / scale,
      held[1] - (y - element.clientHeight / 2) / scale,
    ];
    setLook({ middle: inside(middle, picture), scale });
  };
  const pan = (dx: number, dy: number) => {
    const { middle, scale } = now();
    setLook({ middle: inside([middle[0] + dx / scale, middle[1] + dy / scale], picture), scale });
  };
  const take = (at: Point) => {
    const [u, v] = at;
    if (u >= 0 && v >= 0 && u <= picture.width && v <= picture.height) takeSpot(at);
  };

  return (
    <div class="picture-view">
      <div
        class="picture-frame"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys move the picture
        tabIndex={0}
        role="application"
        aria-label={`${picture.name}. Arrow keys move it, plus and minus zoom, Space takes the spot at the cross in the middle.`}
        onWheel={(event) => {
          event.preventDefault();
          zoom(event.deltaY < 0 ? 1.25 : 0.8, [event.offsetX, event.offsetY]);
        }}
        onPointerDown={(event) => follow(event, canvas.current!, now(), setLook, picture, take)}
        onKeyDown={(event) => {
          const move = MOVES[event.key];
          if (move) pan(move[0] * STEP, move[1] * STEP);
          else if (event.key === '+' || event.key === '=') zoom(1.25);
          else if (event.key === '-') zoom(0.8);
          else if (event.key === ' ') take(now().middle);
          else return;
          event.preventDefault();
          event.stopPropagation();
        }}
      >
        <canvas ref={canvas} />
      </div>
      <div class="steps">
        <button type="button" class="quiet small" onClick={() => zoom(1.6)}>
          Closer
        </button>
        <button type="button" class="quiet small" onClick={() => zoom(0.625)}>
          Farther
        </button>
        <button type="button" class="quiet small" onClick={() => setLook(null)}>
          Whole picture
        </button>
        <button type="button" class="quiet small" onClick={() => take(now().middle)}>
          Take the spot at the cross
        </button>
      </div>
    </div>
  );
}

const MOVES: Record<string, [number, number]> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

const inside = ([u, v]: Point, { width, height }: PinnedPicture): Point => [
  Math.min(width, Math.max(0, u)),
  Math.min(height, Math.max(0, v)),
];

function wholeOf(element: HTMLCanvasElement | null, { width, height }: PinnedPicture): Look {
  const scale = element ? Math.min(element.clientWidth / width, element.clientHeight / height) : 1;
  return { middle: [width / 2, height / 2], scale: scale || 1 };
}

/** The picture's pixel at a place of the view. */
const spotAt = (
  { clientWidth, clientHeight }: HTMLCanvasElement,
  { middle, scale }: Look,
  [x, y]: Point,
): Point => [middle[0] + (x - clientWidth / 2) / scale, middle[1] + (y - clientHeight / 2) / scale];

/** One press: a drag moves the picture, a click takes a spot. */
function follow(
  event: PointerEvent,
  element: HTMLCanvasElement,
  look: Look,
  setLook: (look: Look) => void,
  picture: PinnedPicture,
  take: (at: Point) => void,
): void {
  if (event.button !== 0) return;
  const from: Point = [event.offsetX, event.offsetY];
  let still = true;
  element.setPointerCapture(event.pointerId);
  const move = (moved: PointerEvent) => {
    const [dx, dy] = [moved.offsetX - from[0], moved.offsetY - from[1]];
    if (still && Math.hypot(dx, dy) < STILL) return;
    still = false;
    const { middle, scale } = look;
    setLook({ middle: inside([middle[0] - dx / scale, middle[1] - dy / scale], picture), scale });
  };
  const end = (done: PointerEvent) => {
    element.removeEventListener('pointermove', move);
    element.removeEventListener('pointerup', end);
    element.removeEventListener('pointercancel', end);
    if (still && done.type === 'pointerup') take(spotAt(element, look, from));
  };
  element.addEventListener('pointermove', move);
  element.addEventListener('pointerup', end);
  element.addEventListener('pointercancel', end);
}

function paint(
  element: HTMLCanvasElement,
  { pins }: PinnedPicture,
  { bitmap, scale: shrunk }: { bitmap: ImageBitmap; scale: number },
  { middle, scale }: Look,
): void {
  const ratio = window.devicePixelRatio;
  const { clientWidth: width, clientHeight: height } = element;
  element.width = Math.round(width * ratio);
  element.height = Math.round(height * ratio);
  const pen = element.getContext('2d')!;
  const style = getComputedStyle(element);
  const colour = (name: string) => style.getPropertyValue(name).trim();
  pen.setTransform(ratio, 0, 0, ratio, 0, 0);
  const place = ([u, v]: Point): Point => [
    width / 2 + (u - middle[0]) * scale,
    height / 2 + (v - middle[1]) * scale,
  ];
  const [left, top] = place([0, 0]);
  pen.imageSmoothingEnabled = scale * shrunk < 3;
  pen.imageSmoothingQuality = 'high';
  pen.drawImage(bitmap, left, top, bitmap.width * shrunk * scale, bitmap.height * shrunk * scale);
  for (const [k, { at }] of pins.entries()) disc(pen, place(at), String(k + 1), k === moving.peek());
  const waits = waiting.peek();
  if (waits) disc(pen, place(waits), String(pins.length + 1), true);
  // The cross that keys take spots at.
  const [x, y] = [width / 2, height / 2];
  for (const [wide, ink] of [
    [4, '#ffffff'],
    [1.5, colour('--tape') || '#b0135f'],
  ] as const) {
    pen.lineWidth = wide;
    pen.strokeStyle = ink;
    pen.beginPath();
    pen.moveTo(x - 9, y);
    pen.lineTo(x + 9, y);
    pen.moveTo(x, y - 9);
    pen.lineTo(x, y + 9);
    pen.stroke();
  }
}

/** A numbered disc; filled where the pin waits for a click. */
function disc(pen: CanvasRenderingContext2D, [x, y]: Point, number: string, waits: boolean): void {
  pen.beginPath();
  pen.arc(x, y, 10, 0, 2 * Math.PI);
  pen.fillStyle = waits ? '#b0135f' : '#ffffff';
  pen.strokeStyle = '#b0135f';
  pen.lineWidth = 2.5;
  pen.fill();
  pen.stroke();
  pen.fillStyle = waits ? '#ffffff' : '#1b2420';
  pen.font = '700 12px sans-serif';
  pen.textAlign = 'center';
  pen.textBaseline = 'middle';
  pen.fillText(number, x, y + 0.5);
}
