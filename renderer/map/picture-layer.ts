import OlFeature from 'ol/Feature.js';
import { LineString, Point as OlPoint } from 'ol/geom.js';
import ImageLayer from 'ol/layer/Image.js';
import VectorLayer from 'ol/layer/Vector.js';
import type OlMap from 'ol/Map.js';
import ImageCanvasSource from 'ol/source/ImageCanvas.js';
import VectorSource from 'ol/source/Vector.js';
import CircleStyle from 'ol/style/Circle.js';
import Fill from 'ol/style/Fill.js';
import Stroke from 'ol/style/Stroke.js';
import Style from 'ol/style/Style.js';
import Text from 'ol/style/Text.js';
import type { Point } from '../../core/grid/frame.ts';
import { FONT, INK } from './theme.ts';

/** A picture as it lies on the map. */
export interface LaidPicture {
  id: string;
  bitmap: ImageBitmap;
  /** x = a + b column + c row, y = d + e column + f row, of the bitmap's own pixels, m. */
  placing: readonly number[];
  opacity: number;
}

/** A pin on the map, and where the picture has its spot; null where it is not placed yet. */
export interface MapPin {
  to: Point;
  lies: Point | null;
}

export interface PictureLayer {
  show(pictures: readonly LaidPicture[]): void;
  pins(pins: readonly MapPin[]): void;
}

/** Over what is painted, under what is drawn. */
const UNDER_MARKS = 50;
const OVER_MARKS = 290;

/** Pictures laid over the map as their pins place them, and the pins of the one that is worked on. */
export function createPictureLayer(map: OlMap): PictureLayer {
  let laid: readonly LaidPicture[] = [];
  const canvas = document.createElement('canvas');
  const source = new ImageCanvasSource({
    projection: map.getView().getProjection(),
    ratio: 1.2,
    canvasFunction: ([west, , east, north], _resolution, _ratio, [width, height]) => {
      canvas.width = width!;
      canvas.height = height!;
      const pen = canvas.getContext('2d')!;
      const scale = width! / (east! - west!);
      for (const { bitmap, placing, opacity } of laid) {
        const [a, b, c, d, e, f] = placing as [number, number, number, number, number, number];
        pen.globalAlpha = opacity;
        pen.setTransform(
          b * scale,
          -e * scale,
          c * scale,
          -f * scale,
          (a - west!) * scale,
          (north! - d) * scale,
        );
        pen.imageSmoothingQuality = 'high';
        pen.drawImage(bitmap, 0, 0);
      }
      return canvas;
    },
  });
  const layer = new ImageLayer({ source, zIndex: UNDER_MARKS });
  const pinned = new VectorSource();
  map.addLayer(layer);
  map.addLayer(new VectorLayer({ source: pinned, style: pinStyle, zIndex: OVER_MARKS }));
  return {
    show(pictures) {
      laid = pictures;
      layer.setVisible(pictures.length > 0);
      source.changed();
    },
    pins(pins) {
      pinned.clear(true);
      pins.forEach(({ to, lies }, k) => {
        const pin = new OlFeature(new OlPoint([to[0], to[1]]));
        pin.set('number', k + 1);
        pinned.addFeature(pin);
        if (lies) pinned.addFeature(new OlFeature(new LineString([[...to], [...lies]])));
      });
    },
  };
}

/** A numbered disc where the pin is on the map, and a line to where the picture has it. */
const pinStyle = (feature: { get(key: string): unknown }): Style[] => {
  const number = feature.get('number');
  if (number === undefined)
    return [
      new Style({ stroke: new Stroke({ color: INK.paper, width: 5 }) }),
      new Style({ stroke: new Stroke({ color: INK.tape, width: 2.5 }) }),
    ];
  return [
    new Style({
      image: new CircleStyle({
        radius: 10,
        fill: new Fill({ color: INK.paper }),
        stroke: new Stroke({ color: INK.tape, width: 2.5 }),
      }),
      text: new Text({
        text: String(number),
        font: `700 12px ${FONT}`,
        fill: new Fill({ color: INK.ink }),
        overflow: true,
      }),
    }),
  ];
};
