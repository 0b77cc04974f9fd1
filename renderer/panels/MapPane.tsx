import { effect, signal, untracked } from '@preact/signals';
import type OlFeature from 'ol/Feature.js';
import GeoJSON from 'ol/format/GeoJSON.js';
import type VectorLayer from 'ol/layer/Vector.js';
import { unByKey } from 'ol/Observable.js';
import { useEffect, useRef } from 'preact/hooks';
import type { Point } from '../../core/grid/frame.ts';
import { createAirLayer } from '../map/air-arrows.ts';
import { createBrush } from '../map/brush.ts';
import { drawCollar } from '../map/collar.ts';
import { createHandLayer } from '../map/hand-layer.ts';
import { createMapView, type MapView } from '../map/map-view.ts';
import { createPen, createReshaper } from '../map/pen.ts';
import { createPictureLayer } from '../map/picture-layer.ts';
import { shownMarks, shownPaint } from '../map/stage-map.ts';
import { createStandLayer } from '../map/stand-layer.ts';
import { markWords } from '../map/styles.ts';
import { extentOf } from '../map/tile-grid.ts';
import { aim, stopAim, takeAim } from '../state/aiming.ts';
import { airArrows } from '../state/air-marks.ts';
import { noteNecksShown } from '../state/blind-trial.ts';
import { follow, isFollowed } from '../state/dragging.ts';
import { drawing, pen, putFeature, sketch, undo } from '../state/editing.ts';
import { handAt, handLow, holdAt, setHandScale } from '../state/hand.ts';
import { handDrawn } from '../state/hand-marks.ts';
import {
  type MeasureTool,
  measure,
  measured,
  measureTool,
  putMeasureAway,
  takeUpMeasure,
} from '../state/measuring.ts';
import { brush, paint, painting, strokes } from '../state/painting.ts';
import { laidPictures, mapPins } from '../state/picture-marks.ts';
import { divider } from '../state/plans.ts';
import { rest } from '../state/pointer.ts';
import { reliefOpen } from '../state/relief.ts';
import { pointsOf, rowsOf } from '../state/rows.ts';
import { summary, units } from '../state/session.ts';
import { keepForClient, mapExtent, showing } from '../state/showing.ts';
import type { MarkLayer } from '../state/stages.ts';
import { seatMark, standDrawn } from '../state/stand-marks.ts';
import { triedAt } from '../state/stands-asks.ts';
import { table } from '../state/tables.ts';
import { shownTheme } from '../state/theme.ts';
import { flight, keepView, keptView, layersOpen, type Selection, selection } from '../state/view.ts';
import type { Shape } from '../words/drawable.ts';
import { kindTitle } from '../words/features.ts';
import { sketchWords } from '../words/measures.ts';
import { AimBar } from './AimBar.tsx';
import { DrawBar } from './DrawBar.tsx';
import { featureOf } from './FeatureForm.tsx';
import { Glyph } from './Glyph.tsx';
import { Instruments, scale } from './Instruments.tsx';
import { LayerCard } from './LayerCard.tsx';
import { DragCard } from './map/DragCard.tsx';
import { HandButton, HandCard } from './map/HandCard.tsx';
import { MeasureCard } from './map/MeasureCard.tsx';
import { PlanDivider } from './map/PlanDivider.tsx';
import { ReliefPane } from './map/ReliefPane.tsx';

const BAND = 22;
/** Which marks can be chosen by pointing at them, topmost first. */
const CHOOSABLE: Partial<Record<MarkLayer, Selection['type']>> = {
  necks: 'neck',
  stands: 'stand',
  crossings: 'crossing',
  junctions: 'junction',
  'pool-marks': 'pool',
  saddles: 'saddle',
  benches: 'bench',
  channels: 'channel',
  features: 'feature',
  boundary: 'feature',
};

const hover = signal<{ words: string; x: number; y: number } | null>(null);

export function MapPane() {
  const target = useRef<HTMLDivElement>(null);
  const collar = useRef<HTMLCanvasElement>(null);
  const view = useRef<MapView | null>(null);
  const property = summary.value!;
  const { frame } = property;
  const frameKey = `${frame.epsg} ${frame.west} ${frame.north} ${frame.cellSize} ${frame.width} ${frame.height}`;

  useEffect(() => {
    const made = createMapView(target.current!, frame);
    view.current = made;
    const stops = [
      showLayers(made),
      showAir(made),
      showPictures(made),
      showStand(made),
      showHand(made, target.current!),
      followFlights(made),
      effect(() => made.divideAt(divider.value)),
      followContext(made),
      listenToPointer(made, target.current!),
      drawWithPen(made, target.current!),
      paintWithBrush(made, target.current!),
      takeAims(target.current!),
      stillOnDoubleClick(made),
      reshapeChosen(made),
      ruleCollar(made, collar.current!),
      rememberView(made, frameKey),
    ];
    return () => {
      for (const stop of stops) stop();
      made.dispose();
      view.current = null;
    };
  }, [frameKey]);

  return (
    <main class="map-pane" aria-label="Map">
      <canvas ref={collar} class="collar" />
      <div
        ref={target}
        class="map"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys pan the map
        tabIndex={0}
        role="application"
        aria-label="Map. Arrow keys move it, plus and minus zoom, the cross in the middle is where you read and draw."
        onKeyDown={(event) => mapKey(event, view.current)}
      >
        <span class="cross" aria-hidden="true" />
      </div>
      <PlanDivider />
      {reliefOpen.value && <ReliefPane />}
      <HoverLabel />
      <DrawBar />
      <AimBar />
      <MeasureCard />
      <HandCard />
      <DragCard />
      <LayerCard />
      {!reliefOpen.value && (
        <fieldset class="zoom" aria-label="Map tools">
          <button type="button" class="quiet icon" onClick={() => view.current?.zoomBy(1)}>
            <Glyph name="plus" />
            <span class="unseen">Zoom in</span>
          </button>
          <button type="button" class="quiet icon" onClick={() => view.current?.zoomBy(-1)}>
            <Glyph name="minus" />
            <span class="unseen">Zoom out</span>
          </button>
          <button type="button" class="quiet icon" onClick={() => view.current && goHome(view.current)}>
            <Glyph name="home" />
            <span class="unseen">Show the whole property</span>
          </button>
          <button
            type="button"
            class="quiet icon"
            title="Keep this view for the client"
            onClick={() => void keepForClient()}
          >
            <Glyph name="keep" />
            <span class="unseen">Keep this view for the client</span>
          </button>
          <button
            type="button"
            class="quiet icon"
            aria-pressed={measureTool.value !== null}
            title="Measure (M, with the map in focus)"
            onClick={() => (measureTool.value ? putMeasureAway() : takeUpMeasure('line'))}
          >
            <Glyph name="measure" />
            <span class="unseen">Measure</span>
          </button>
          <button
            type="button"
            class="quiet icon"
            title="Look at the ground from an angle (B, with the map in focus)"
            onClick={openRelief}
          >
            <Glyph name="relief" />
            <span class="unseen">Look at the ground from an angle</span>
          </button>
          <HandButton />
        </fieldset>
      )}
      <Instruments />
    </main>
  );
}

function openRelief(): void {
  drawing.value = null;
  putMeasureAway();
  stopAim();
  hover.value = null;
  reliefOpen.value = true;
}

/** Name of the mark under the pointer. The same words are in the findings, so screen readers miss nothing. */
function HoverLabel() {
  const found = hover.value;
  if (!found || pen.value || aim.value) return null;
  return (
    <p
      class="hover"
      aria-hidden="true"
      style={{ left: `${found.x + BAND + 14}px`, top: `${found.y + BAND + 14}px` }}
    >
      {found.words}
    </p>
  );
}

function showLayers({ paint, mark }: MapView): () => void {
  return effect(() => {
    const property = summary.value;
    if (!property) return;
    paint(shownPaint(property));
    const marks = shownMarks(property);
    if (marks.some(({ layer, data }) => layer === 'necks' && data)) noteNecksShown();
    mark(marks);
  });
}

function showAir({ map }: MapView): () => void {
  const { layer, show } = createAirLayer();
  map.addLayer(layer);
  return effect(() => show(airArrows.value));
}

/** Pinned pictures, and the pins of the one that is worked on. */
function showPictures({ map }: MapView): () => void {
  const layer = createPictureLayer(map);
  const stops = [effect(() => layer.show(laidPictures.value)), effect(() => layer.pins(mapPins.value))];
  return () => {
    for (const stop of stops) stop();
  };
}

/** What is told of the spot under the hand; the other button of the mouse keeps a spot. */
function showHand({ map }: MapView, element: HTMLElement): () => void {
  const { layer, show } = createHandLayer();
  map.addLayer(layer);
  const stops = [
    effect(() => show(handDrawn.value)),
    effect(() => {
      const pixel = handAt.value && map.getPixelFromCoordinate(handAt.value);
      const height = map.getSize()?.[1];
      if (pixel && height) handLow.value = pixel[1]! > height / 2;
    }),
  ];
  const hold = (event: MouseEvent) => {
    if (pen.value || aim.value) return;
    event.preventDefault();
    const [x, y] = map.getEventCoordinate(event) as Point;
    holdAt([x, y]);
  };
  element.addEventListener('contextmenu', hold);
  return () => {
    for (const stop of stops) stop();
    element.removeEventListener('contextmenu', hold);
  };
}

/** The stand asked about: what is drawn of it, and its seat to drag. */
function showStand({ map }: MapView): () => void {
  const made = createStandLayer(map, (at) => {
    triedAt.value = at;
  });
  const stops = [
    effect(() => made.show(standDrawn.value)),
    effect(() => made.seat(seatMark.value)),
    made.dispose,
  ];
  return () => {
    for (const stop of stops) stop();
  };
}

const followFlights = (made: MapView): (() => void) =>
  effect(() => {
    const to = flight.value;
    if (to) made.fly(to.extent, to.span, freePadding(made));
  });

const followContext = (made: MapView): (() => void) =>
  effect(() => made.setContext({ units: units.value, chosen: selection.value }));

function rememberView(made: MapView, frameKey: string): () => void {
  const view = made.map.getView();
  const kept = keptView(frameKey);
  const [west, south, east, north] = extentOf(summary.peek()!.frame);
  const [x, y] = kept?.centre ?? [];
  // A view that shows none of the ground is no view to return to.
  const before = kept && x! > west && x! < east && y! > south && y! < north ? kept : null;
  if (before) {
    view.setCenter(before.centre);
    view.setResolution(before.resolution);
  }
  flight.value = null;
  // Without a view to return to, the property is shown once its boundary is known.
  let placed = before !== null;
  const stopPlacing = effect(() => {
    if (placed) return;
    const waits = summary.value?.tables.some((t) => t.name === 'features' && t.count > 0);
    if (waits && !table('features').value) return;
    placed = true;
    goHome(made);
  });
  const key = made.map.on('moveend', () => {
    const centre = view.getCenter();
    const resolution = view.getResolution();
    if (!centre || !resolution) return;
    keepView(frameKey, { centre, resolution });
    mapExtent.value = view.calculateExtent(made.map.getSize());
  });
  return () => {
    stopPlacing();
    unByKey(key);
  };
}

/** The boundary where there is one, else the whole frame. */
function goHome(made: MapView): void {
  const rings = untracked(() =>
    rowsOf('features', table('features').value).filter((row) => row.kind === 'boundary'),
  ).flatMap((row) => pointsOf(row.shape));
  const [west, south, east, north] = extentOf(summary.peek()!.frame);
  const points =
    rings.length > 0
      ? rings
      : [
          [west, south],
          [east, north],
        ];
  const xs = points.map((p) => p[0]!);
  const ys = points.map((p) => p[1]!);
  made.fly([Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)], 100, freePadding(made));
}

/** Room that the cards over the map take from its edges, px. */
function freePadding({ map }: MapView): number[] {
  // Views for the client have no card over them.
  if (showing.peek() !== null) return [0, 0, 0, 0];
  const [width = 0, height = 0] = map.getSize() ?? [];
  const card = layersOpen.peek() && width > 640 ? 300 : 40;
  const foot = height > 420 ? 90 : 30;
  return [40, card, foot, 60];
}

function ruleCollar({ map }: MapView, canvas: HTMLCanvasElement): () => void {
  const draw = () => {
    const style = getComputedStyle(canvas);
    const colour = (name: string) => style.getPropertyValue(name).trim();
    drawCollar(
      canvas,
      map,
      { ink: colour('--ink-2'), paper: colour('--collar'), faint: colour('--line') },
      BAND,
    );
  };
  const stopTheme = effect(() => {
    void shownTheme.value;
    // The attribute lands after this effect; colours are read in the next frame.
    requestAnimationFrame(draw);
  });
  const key = map.on('postrender', () => {
    draw();
    scale.value = map.getView().getResolution() ?? 1;
    setHandScale(scale.value);
  });
  return () => {
    unByKey(key);
    stopTheme();
  };
}

function listenToPointer(made: MapView, element: HTMLElement): () => void {
  const { map } = made;
  const layers = () =>
    (Object.keys(CHOOSABLE) as MarkLayer[]).flatMap((name) => {
      const layer = made.layerOf(name);
      return layer?.getVisible() ? [{ name, layer }] : [];
    });
  const under = (pixel: number[]): { chosen: Selection; words: string | null } | null => {
    for (const { name, layer } of layers()) {
      const hit = map.forEachFeatureAtPixel(pixel, (feature) => feature, {
        layerFilter: (candidate) => candidate === (layer as unknown),
        hitTolerance: 4,
      });
      const id = hit?.getId();
      if (hit && id !== undefined)
        return {
          chosen: { type: CHOOSABLE[name]!, id: String(id) },
          words: markWords(name, hit, units.peek()),
        };
    }
    return null;
  };
  const keys = [
    map.on('pointermove', (event) => {
      if (event.dragging) return;
      rest([event.coordinate[0]!, event.coordinate[1]!]);
      if (pen.value || aim.value || painting.value) return;
      const found = under(event.pixel);
      element.style.cursor = found ? 'pointer' : '';
      const [x, y] = event.pixel as [number, number];
      hover.value = found?.words ? { words: found.words, x, y } : null;
    }),
    map.on('click', (event) => {
      if (pen.value || painting.value) return;
      if (aim.value) return takeAim([event.coordinate[0]!, event.coordinate[1]!]);
      selection.value = under(event.pixel)?.chosen ?? null;
    }),
    map.on('moveend', () => {
      // With the keyboard the cross in the middle is the pointer.
      if (!element.matches(':focus-visible')) return;
      const centre = map.getView().getCenter();
      if (centre) rest([centre[0]!, centre[1]!]);
    }),
  ];
  const leave = () => {
    rest(null);
    hover.value = null;
  };
  element.addEventListener('pointerleave', leave);
  return () => {
    unByKey(keys);
    element.removeEventListener('pointerleave', leave);
  };
}

/** The card keeps to the half of the map that the thing told of is not in. */
function keepCardClear({ map }: MapView, thing: OlFeature): void {
  const extent = thing.getGeometry()?.getExtent();
  const pixel =
    extent && map.getPixelFromCoordinate([(extent[0]! + extent[2]!) / 2, (extent[1]! + extent[3]!) / 2]);
  const height = map.getSize()?.[1];
  if (pixel && height) handLow.value = pixel[1]! > height / 2;
}

const snapSources = (made: MapView) =>
  (['features', 'boundary'] as const).flatMap((name) => made.layerOf(name)?.getSource() ?? []);

/** What the pen draws for: a feature, or a measure. */
interface PenJob {
  shape: Shape;
  done(geometry: { type: Shape; coordinates: unknown }): void;
  cancelled(): void;
}

const drawingJob = (kind: NonNullable<typeof drawing.value>): PenJob => ({
  shape: kind.shape,
  async done(geometry) {
    const id = `drawn-${crypto.randomUUID()}`;
    drawing.value = null;
    const put = await putFeature(
      {
        id,
        kind: kind.kind,
        status: kind.status,
        name: null,
        geometry: geometry as never,
        attributes: { ...kind.attributes },
        source: 'drawn',
      },
      `${kind.title} drawn.`,
    );
    if (put) selection.value = { type: 'feature', id };
  },
  cancelled() {
    drawing.value = null;
  },
});

const measuringJob = (tool: MeasureTool): PenJob => ({
  shape: tool === 'area' ? 'Polygon' : 'LineString',
  done: ({ type, coordinates }) =>
    measure(type === 'Polygon' ? (coordinates as Point[][])[0]! : (coordinates as Point[])),
  cancelled: putMeasureAway,
});

function drawWithPen(made: MapView, element: HTMLElement): () => void {
  const stop = effect(() => {
    const kind = drawing.value;
    const tool = measureTool.value;
    if (kind && tool) putMeasureAway();
    const job = kind ? drawingJob(kind) : tool && !measured.value ? measuringJob(tool) : null;
    sketch.value = { points: 0, redo: 0, measure: '' };
    if (!job) return;
    const { convergence } = summary.peek()!.frame;
    element.style.cursor = 'crosshair';
    const sketchPen = createPen(made.map, job.shape, snapSources(made), {
      change: (points, redoable, geometry) => {
        sketch.value = {
          points,
          redo: redoable,
          measure: sketchWords(geometry, units.peek(), convergence),
        };
      },
      done: job.done,
      cancelled: job.cancelled,
    });
    pen.value = sketchPen;
    return () => {
      pen.value = null;
      element.style.cursor = '';
      sketchPen.dispose();
    };
  });
  return stop;
}

/** A brush in the hand paints; it is put down by its button, by Escape, or by taking up another tool. */
function paintWithBrush({ map }: MapView, element: HTMLElement): () => void {
  return effect(() => {
    if (!painting.value) return;
    hover.value = null;
    element.style.cursor = 'none';
    const made = createBrush(map, (path) => void paint(path));
    const stop = effect(() => made.show(brush.value.width, strokes.value));
    return () => {
      element.style.cursor = '';
      stop();
      made.dispose();
    };
  });
}

/** While a question waits for a place the map is a target and nothing is chosen on it; drawing ends the question. */
const takeAims = (element: HTMLElement): (() => void) =>
  effect(() => {
    if (pen.value) stopAim();
    if (!aim.value) return;
    hover.value = null;
    element.style.cursor = 'crosshair';
    return () => {
      element.style.cursor = '';
    };
  });

/** How long a second click may follow the first, ms: OpenLayers waits 250. */
const DOUBLE_CLICK = 400;

/** Clicks that set one place after another, or end a line, must not zoom the map; it zooms again a moment later. */
function stillOnDoubleClick(made: MapView): () => void {
  let later: ReturnType<typeof setTimeout> | undefined;
  const stop = effect(() => {
    clearTimeout(later);
    if (pen.value || aim.value || painting.value) made.zoomOnDoubleClick(false);
    else later = setTimeout(() => made.zoomOnDoubleClick(true), DOUBLE_CLICK);
  });
  return () => {
    clearTimeout(later);
    stop();
  };
}

/** While a feature is chosen its points can be dragged; letting go is one edit. */
function reshapeChosen(made: MapView): () => void {
  const format = new GeoJSON();
  return effect(() => {
    const chosen = selection.value;
    const data = table('features').value;
    if (chosen?.type !== 'feature' || pen.value || aim.value || !data) return;
    const layer = (['features', 'boundary'] as const)
      .map((name) => made.layerOf(name))
      .find(
        (candidate): candidate is VectorLayer => candidate?.getSource()?.getFeatureById(chosen.id) != null,
      );
    const feature = layer?.getSource()?.getFeatureById(chosen.id) as OlFeature | undefined;
    if (!feature) return;
    const now = () => {
      const row = rowsOf('features', table('features').peek()).find((item) => item.id === chosen.id);
      const geometry = feature.getGeometry();
      return row && geometry
        ? { ...featureOf(row), geometry: format.writeGeometryObject(geometry) as never }
        : null;
    };
    const done = () => {
      const reshaped = now();
      if (reshaped) void putFeature(reshaped, `${kindTitle(reshaped.kind)} reshaped.`);
    };
    const first = now();
    const moving = () => {
      const dragged = now();
      if (!dragged) return;
      hover.value = null;
      keepCardClear(made, feature);
      void follow(dragged as never);
    };
    return createReshaper(
      made.map,
      feature,
      snapSources(made),
      done,
      first && isFollowed(first) ? moving : undefined,
    );
  });
}

/** Keys of the map: drawing at the cross, and zoom. Panning is the map's own. */
function mapKey(event: KeyboardEvent, made: MapView | null): void {
  if (!made || event.ctrlKey || event.metaKey || event.altKey) return;
  const centre = made.map.getView().getCenter();
  if (painting.value && centre && event.key === ' ') {
    event.preventDefault();
    void paint([[centre[0]!, centre[1]!]]);
    return;
  }
  const tool = pen.value;
  if (tool && centre) {
    if (event.key === ' ' || (event.key === 'Enter' && drawing.value?.shape === 'Point'))
      tool.addAt([[centre[0]!, centre[1]!]]);
    else if (event.key === 'Enter') tool.finish();
    else if (event.key === 'Backspace') void undo();
    else if (event.key === 'Delete') tool.cancel();
    else return;
    event.preventDefault();
    event.stopPropagation();
    return;
  }
  if (aim.value && centre && (event.key === ' ' || event.key === 'Enter')) {
    takeAim([centre[0]!, centre[1]!]);
    event.preventDefault();
    return;
  }
  const letter = event.key.toLowerCase();
  if (letter === 'm' || letter === 'b') {
    if (letter === 'm') takeUpMeasure('line');
    else openRelief();
    event.preventDefault();
    return;
  }
  if (event.key === 'Enter' && centre) {
    rest([centre[0]!, centre[1]!]);
    event.preventDefault();
  }
}
