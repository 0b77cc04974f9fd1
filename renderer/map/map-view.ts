import type { FeatureCollection } from 'geojson';
import GeoJSON from 'ol/format/GeoJSON.js';
import { defaults as defaultInteractions } from 'ol/interaction/defaults.js';
import { DoubleClickZoom, MouseWheelZoom } from 'ol/interaction.js';
import TileLayerView from 'ol/layer/Tile.js';
import VectorLayer from 'ol/layer/Vector.js';
import OlMap from 'ol/Map.js';
import Projection from 'ol/proj/Projection.js';
import ImageTileSource from 'ol/source/ImageTile.js';
import VectorSource from 'ol/source/Vector.js';
import TileGrid from 'ol/tilegrid/TileGrid.js';
import View from 'ol/View.js';
import type { FrameSummary } from '../../electron/service/contract.ts';
import { type MapLayer, PAINTERS, type StyleContext } from './styles.ts';
import { extentOf, resolutions, TILE_SIZE } from './tile-grid.ts';

/** A painted picture of the frame: its name, the key that changes with its content, and the way to its tiles. */
export interface Painted {
  layer: string;
  key: string;
  opacity: number;
  /** The side of the divider it shows on; over the whole map where not said. */
  side?: 'left' | 'right' | null;
  fetch(z: number, x: number, y: number): Promise<Uint8Array>;
}

/** Owns the OpenLayers map of one property frame. Everything on it is in frame coordinates, m. */
export interface MapView {
  map: OlMap;
  /** Shows exactly these painted layers, bottom first; a new key fetches the layer's tiles anew. */
  paint(layers: Painted[]): void;
  /** Shows exactly these marks, bottom first. */
  mark(layers: { layer: MapLayer; data: FeatureCollection | null }[]): void;
  /** Redraws marks after the choice or the units changed. */
  setContext(context: StyleContext): void;
  /** Shows an extent, at least `span` m of ground, in the part of the map that `padding` (top, right, bottom, left, px) leaves free. */
  fly(extent: number[], span: number, padding: number[]): void;
  zoomBy(steps: number): void;
  /** Whether a double click zooms; not while clicks set places one after another. */
  zoomOnDoubleClick(on: boolean): void;
  /** Where the divider stands across the map, 0..1. */
  divideAt(share: number): void;
  layerOf(layer: MapLayer): VectorLayer | undefined;
  dispose(): void;
}

const calm = (): boolean => window.matchMedia('(prefers-reduced-motion: reduce)').matches;

export function createMapView(target: HTMLElement, frame: FrameSummary): MapView {
  const extent = extentOf(frame);
  // A code of its own keeps OpenLayers from looking for transforms it might know.
  const projection = new Projection({ code: `frame:${frame.epsg}`, units: 'm', extent });
  const steps = resolutions(frame);
  const tileGrid = new TileGrid({
    extent,
    origin: [frame.west, frame.north],
    resolutions: steps,
    tileSize: TILE_SIZE,
  });
  const span = Math.max(extent[2] - extent[0], extent[3] - extent[1]);
  const view = new View({
    projection,
    center: [(extent[0] + extent[2]) / 2, (extent[1] + extent[3]) / 2],
    extent: [extent[0] - span / 2, extent[1] - span / 2, extent[2] + span / 2, extent[3] + span / 2],
    minResolution: Math.max(0.05, frame.cellSize / 16),
    maxResolution: span / 200,
    resolution: span / 800,
    enableRotation: false,
    showFullExtent: true,
  });
  const map = new OlMap({
    target,
    view,
    controls: [],
    keyboardEventTarget: target,
    interactions: defaultInteractions({
      altShiftDragRotate: false,
      pinchRotate: false,
      mouseWheelZoom: false,
    }).extend([new MouseWheelZoom({ duration: calm() ? 0 : 180 })]),
  });

  const painted = new Map<string, { view: TileLayerView<ImageTileSource>; key: string }>();
  const marked = new Map<MapLayer, { view: VectorLayer; data: FeatureCollection | null }>();
  const format = new GeoJSON();
  let context: StyleContext = { units: 'us', chosen: null };

  const tiles = ({ layer, key, fetch }: Painted): ImageTileSource =>
    new ImageTileSource({
      projection,
      tileGrid,
      wrapX: false,
      interpolate: true,
      transition: calm() ? 0 : 160,
      loader: async (z, x, y) => decode(await fetch(z, x, y)),
      // The key keeps a cached tile of an older result from being taken for this one.
      ...{ key: `${layer} ${key}` },
    });

  let dividedAt = 0.5;
  /** Keeps a layer to its side of the divider while it is drawn. */
  const keepToSide = (layer: TileLayerView<ImageTileSource>, side: 'left' | 'right'): void => {
    layer.on('prerender', ({ context: pen }) => {
      if (!(pen instanceof CanvasRenderingContext2D)) return;
      const { width, height } = pen.canvas;
      const at = width * dividedAt;
      pen.save();
      pen.beginPath();
      if (side === 'left') pen.rect(0, 0, at, height);
      else pen.rect(at, 0, width - at, height);
      pen.clip();
    });
    layer.on('postrender', ({ context: pen }) => {
      if (pen instanceof CanvasRenderingContext2D) pen.restore();
    });
  };

  const addPaint = (of: Painted) => {
    const made = { view: new TileLayerView({ source: tiles(of) }), key: of.key };
    if (of.side) keepToSide(made.view, of.side);
    map.addLayer(made.view);
    painted.set(of.layer, made);
    return made;
  };
  const addMark = (layer: MapLayer) => {
    const made = {
      view: new VectorLayer({
        source: new VectorSource(),
        // Names give way to one another and to marks across all layers; marks never give way.
        declutter: 'names',
        renderBuffer: 60,
        updateWhileAnimating: layer !== 'contours',
        style: (feature, resolution) => PAINTERS[layer](feature, resolution, context),
      }),
      data: null as FeatureCollection | null,
    };
    map.addLayer(made.view);
    marked.set(layer, made);
    return made;
  };

  return {
    map,
    paint(layers) {
      for (const { view: layerView } of painted.values()) layerView.setVisible(false);
      layers.forEach((of, order) => {
        const it = painted.get(of.layer) ?? addPaint(of);
        if (it.key !== of.key) {
          it.view.setSource(tiles(of));
          it.key = of.key;
        }
        it.view.setZIndex(order);
        it.view.setOpacity(of.opacity);
        it.view.setVisible(true);
      });
    },
    mark(layers) {
      for (const { view: layerView } of marked.values()) layerView.setVisible(false);
      layers.forEach(({ layer, data }, order) => {
        const it = marked.get(layer) ?? addMark(layer);
        if (it.data !== data) {
          const source = it.view.getSource()!;
          source.clear(true);
          if (data) source.addFeatures(format.readFeatures(data));
          it.data = data;
        }
        it.view.setZIndex(100 + order);
        it.view.setVisible(true);
      });
    },
    setContext(next) {
      context = next;
      for (const { view: layerView } of marked.values()) if (layerView.getVisible()) layerView.changed();
    },
    fly([west = 0, south = 0, east = 0, north = 0], least, padding) {
      const middle = [(west + east) / 2, (south + north) / 2];
      const [wide, high] = [Math.max(east - west, least) / 2, Math.max(north - south, least) / 2];
      view.cancelAnimations();
      view.fit([middle[0]! - wide, middle[1]! - high, middle[0]! + wide, middle[1]! + high], {
        duration: calm() ? 0 : 650,
        padding,
        minResolution: frame.cellSize / 4,
      });
    },
    zoomBy(zoomSteps) {
      view.animate({ zoom: (view.getZoom() ?? 0) + zoomSteps, duration: calm() ? 0 : 200 });
    },
    zoomOnDoubleClick(on) {
      for (const one of map.getInteractions().getArray())
        if (one instanceof DoubleClickZoom) one.setActive(on);
    },
    divideAt(share) {
      dividedAt = share;
      map.render();
    },
    layerOf: (layer) => marked.get(layer)?.view,
    dispose() {
      map.setTarget(undefined);
      map.dispose();
    },
  };
}

const decode = (bytes: Uint8Array): Promise<ImageBitmap> =>
  createImageBitmap(new Blob([bytes as Uint8Array<ArrayBuffer>], { type: 'image/png' }));
