import { imageryIndices } from './indices.ts';
import { type AdaptiveLimit, adaptLimit, keepWithin, otsuSplit, otsuThree, quantile } from './threshold.ts';
import { COVER, type Imagery } from './types.ts';
import { windowMean, windowTexture } from './window.ts';

/**
 * The rule table: limits on counts 0..255 and on indices, each taken from the scene by Otsu's threshold where the
 * scene parts clearly there and kept within bounds otherwise. The numbers are ours (no source): index limits as
 * commonly used, scaled for counts instead of reflectances.
 *
 * Read from the top, the first rule that fits decides:
 *
 * | class     | four bands                                          | three bands                               |
 * |-----------|-----------------------------------------------------|-------------------------------------------|
 * | water     | NDWI > 0, dark near infrared, smooth                | dark, smooth, blue not below red or green |
 * | timber    | rough crowns, not bright; or dark green, half rough | the same, green by excess green           |
 * | built     | NDVI below `bare`, grey and bright                  | no green, grey and bright                 |
 * | brush     | rougher than a field, not bright                    | the same                                  |
 * | open      | the rest                                            | the rest                                  |
 *
 * Timber is split in evergreen and deciduous by what stays green (leaf-off) or by darker near infrared (leaf-on).
 * Wet ground cannot be told from a photo of one day and is never set here.
 */
const LIMITS = {
  /** Texture (deviation over mean) where crowns begin. */
  crowns: { usual: 0.11, least: 0.09, most: 0.15 },
  /** Texture where brush begins. */
  brush: { usual: 0.055, least: 0.045, most: 0.07 },
  /** NDVI of green ground. */
  green: { usual: 0.15, least: 0.08, most: 0.3 },
  /** Excess green of green ground. */
  excessGreen: { usual: 0.06, least: 0.03, most: 0.15 },
  /** Brightness below which green ground is dark. */
  dark: { usual: 85, least: 55, most: 115 },
} satisfies Record<string, AdaptiveLimit>;
const BUILT_NDVI = 0.03;
/** Mean brightness above which rough ground is rubble, rows or roofs, not crowns or brush. */
const BRIGHT_CROWNS = 130;
const WATER_INFRARED = 75;
const SMOOTH_WATER = 0.08;
/** Textures part clearly in three when this share of their variance lies between the parts. */
const CLEAR_THREE = 0.85;
/** Median index of timber below which it stands without leaves. */
const LEAF_OFF = { ndvi: 0.22, excessGreen: 0.03 };
/** Distance the texture is taken over, m: about two crowns. */
const CROWN_REACH = 9;
/** Cells larger than this show no single crown, m. */
const CROWN_CELL = 4;
/** Radius over which the share under canopy is taken, m. */
const CANOPY_REACH = 10;

export interface Classified {
  cover: Uint8Array;
  /** Share of timber cells within 10 m, 0..1; NaN without imagery. */
  canopy: Float32Array;
  /** 1 where no green was seen on open ground: bare soil or stubble. */
  bare: Uint8Array;
  doubts: string[];
}

/** Cover classes, before cleaning, from a photo by the rule table above. */
export function classifyImagery(imagery: Imagery): Classified {
  const { frame, bands, valid } = imagery;
  const { cellSize } = frame;
  const count = valid.length;
  const doubts: string[] = [];
  const { ndvi, ndwi, excessGreen, brightness } = imageryIndices(imagery);
  const [red, green, blue, infrared] = bands as [Uint8Array, Uint8Array, Uint8Array, Uint8Array?];
  const radius = Math.max(2, Math.round(CROWN_REACH / cellSize));
  const texture = windowTexture(frame, brightness, radius);
  const around = windowMean(frame, brightness, radius);
  const seesCrowns = cellSize <= CROWN_CELL;

  const greenness = ndvi ?? excessGreen;
  const greenLimit = ndvi ? adaptLimit(LIMITS.green, ndvi) : adaptLimit(LIMITS.excessGreen, excessGreen);
  // Steps of texture are ratios, so the cuts are sought in its logarithm.
  const textures = seesCrowns ? otsuThree(texture.map((value) => Math.log(Math.max(value, 0.005)))) : null;
  const parted = textures !== null && textures.separability >= CLEAR_THREE;
  const crownLimit = parted ? keepWithin(LIMITS.crowns, Math.exp(textures.high)) : LIMITS.crowns.usual;
  const brushLimit = parted ? keepWithin(LIMITS.brush, Math.exp(textures.low)) : LIMITS.brush.usual;
  const isGreen = Uint8Array.from(greenness, (value) => (value >= greenLimit ? 1 : 0));
  const darkLimit = adaptLimit(LIMITS.dark, brightness, isGreen);

  const cover = new Uint8Array(count);
  const timber = new Uint8Array(count);
  const bare = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    if (valid[i] === 0) continue;
    const r = red[i]!;
    const g = green[i]!;
    const b = blue[i]!;
    const bright = brightness[i]!;
    const light = around[i]!;
    const rough = texture[i]!;
    const high = Math.max(r, g, b);
    const grey = high === 0 || (high - Math.min(r, g, b)) / high < 0.16;
    const water = ndwi
      ? ndwi[i]! > 0 && infrared![i]! < WATER_INFRARED && rough < SMOOTH_WATER
      : bright < 70 && rough < SMOOTH_WATER && b >= r && b >= g;
    const vegetated = isGreen[i] === 1;
    const built = !vegetated && grey && bright >= 95 && (!ndvi || ndvi[i]! < BUILT_NDVI);
    const crowns = seesCrowns
      ? !built &&
        ((rough >= crownLimit && light < BRIGHT_CROWNS) ||
          (vegetated && light < darkLimit && rough >= brushLimit))
      : vegetated && bright < darkLimit;
    if (water) cover[i] = COVER.water;
    else if (crowns) {
      cover[i] = COVER.deciduous;
      timber[i] = 1;
    } else if (built) cover[i] = COVER.built;
    else if (rough >= brushLimit && light < BRIGHT_CROWNS) cover[i] = COVER.brush;
    else {
      cover[i] = COVER.open;
      if (!vegetated) bare[i] = 1;
    }
  }

  splitTimber(imagery, timber, greenness, cover, doubts);
  if (!seesCrowns)
    doubts.push(
      `At ${cellSize} m a cell no single crown is seen: timber is told from fields by darkness alone, and brush hardly at all.`,
    );
  if (!ndvi)
    doubts.push(
      'The photo has no near infrared: water, shade and dark timber are hard to tell apart, and green by colour alone is less sure.',
    );
  doubts.push('Wet ground cannot be told from one photo; draw it, or add a land-cover raster.');

  const reach = Math.max(1, Math.round(CANOPY_REACH / cellSize));
  const known = Float32Array.from(timber, (value, i) => (valid[i] === 0 ? Number.NaN : value));
  const canopy = windowMean(frame, known, reach);
  for (let i = 0; i < count; i++) if (valid[i] === 0) canopy[i] = Number.NaN;
  return { cover, canopy, bare, doubts };
}

/** Turns deciduous cells to evergreen where the season of the photo lets it be seen. */
function splitTimber(
  imagery: Imagery,
  timber: Uint8Array,
  greenness: Float32Array,
  cover: Uint8Array,
  doubts: string[],
): void {
  const { frame, bands } = imagery;
  const infrared = bands[3];
  const reach = Math.max(1, Math.round(CANOPY_REACH / frame.cellSize));
  const only = (values: ArrayLike<number>) =>
    windowMean(
      frame,
      Float32Array.from(timber, (use, i) => (use ? values[i]! : Number.NaN)),
      reach,
    );
  const middle = quantile(greenness, 0.5, timber);
  if (Number.isNaN(middle)) return;
  const limit = infrared ? LEAF_OFF.ndvi : LEAF_OFF.excessGreen;
  const smooth = only(greenness);
  const split = otsuSplit(smooth, timber);
  // Many evergreens would lift the median of a leaf-off photo, so a clear split with a bare lower side counts too.
  const leafOff = middle < limit || (split !== null && split.separability > 0.8 && split.meanBelow < limit);
  if (leafOff) {
    const clear = split !== null && split.separability > 0.8;
    const threshold = clear ? Math.max(limit / 1.5, split.threshold) : limit;
    for (let i = 0; i < timber.length; i++)
      if (timber[i] && smooth[i]! > threshold) cover[i] = COVER.evergreen;
    doubts.push(
      'The timber looks bare in the photo (leaf-off): what is green there counts as evergreen. Summer screening will be thicker than this photo shows.',
    );
    return;
  }
  if (!infrared) {
    doubts.push(
      'Evergreen cannot be told from deciduous timber in a leaf-on photo without near infrared: all timber counts as deciduous.',
    );
    return;
  }
  const near = only(infrared);
  const dark = otsuSplit(near, timber);
  if (dark && dark.separability > 0.78 && dark.meanBelow < 0.75 * dark.meanAbove) {
    for (let i = 0; i < timber.length; i++)
      if (timber[i] && near[i]! <= dark.threshold) cover[i] = COVER.evergreen;
    doubts.push(
      'The photo is leaf-on: evergreen is told from deciduous timber by darker near infrared alone, which shaded slopes can mimic.',
    );
  } else
    doubts.push(
      'The photo is leaf-on and its timber does not part in two by near infrared: all timber counts as deciduous, evergreen may be among it.',
    );
}
