import { COVER, type CoverLayers } from '../cover/types.ts';
import { cellsAlong, cellsInside } from '../features/cells.ts';
import { type Feature, ofKind } from '../features/feature.ts';
import { distanceTo } from '../grid/distance.ts';
import { assertOnFrame, cellCount, type Frame, type Grid } from '../grid/frame.ts';
import type { Weights } from './assumptions.ts';

/** What the ground, the cover and the features say; all on one frame. */
export interface ResistanceInputs extends CoverLayers {
  /** Degrees; NaN no data. */
  slope: Grid;
  /** m, positive out in the open, negative inside cover; infinite or NaN where there is no edge. */
  edgeDistance: Grid;
  features: readonly Feature[];
}

/** Features that change the ground itself rather than act on the edges between cells. */
interface Marks {
  /** 1 in the bed and on the banks of a drawn creek, whose crossing is paid for on the edges. */
  creek: Uint8Array;
  /** m to the nearest building. */
  building: Float32Array;
  /** Screening that a drawn cut, planting or standing crop gives, whatever the photo shows; NaN elsewhere. */
  screening: Float32Array;
}

/** Degrees beyond the angle from which a face shuts over which it does. Our assumption. */
const FACE_SPAN = 10;

const widthOf = ({ width }: Feature['attributes']): number => (typeof width === 'number' ? width : 2);

function marksOf(frame: Frame, features: readonly Feature[]): Marks {
  const existing = features.filter((feature) => feature.status === 'existing');
  const blank = (): Uint8Array => new Uint8Array(cellCount(frame));
  const [creek, building] = [blank(), blank()];
  for (const { geometry, attributes } of ofKind(existing, 'creek')) {
    cellsAlong(frame, geometry, widthOf(attributes) / 2 + frame.cellSize, (cell) => {
      creek[cell] = 1;
    });
  }
  for (const { geometry } of ofKind(existing, 'building')) {
    const mark = (cell: number): void => {
      building[cell] = 1;
    };
    cellsInside(frame, geometry, mark);
    cellsAlong(frame, geometry, frame.cellSize, mark);
  }
  const screening = new Float32Array(cellCount(frame)).fill(Number.NaN);
  for (const { geometry, attributes } of ofKind(existing, 'cut', 'screen', 'crop')) {
    const hidden = attributes.screening;
    if (typeof hidden !== 'number') continue;
    const mark = (cell: number): void => {
      screening[cell] = hidden;
    };
    cellsInside(frame, geometry, mark);
    if (geometry.type === 'LineString' || geometry.type === 'MultiLineString')
      cellsAlong(frame, geometry, Math.max(0.71 * frame.cellSize, widthOf(attributes) / 2), mark);
  }
  return { creek, building: distanceTo(frame, building).cells, screening };
}

/** The parts that add up to the resistance of a cell, each in extra metres of easy ground per metre. */
interface LevelParts {
  ground: number;
  exposure: number;
  footing: number;
  /** A face too steep to stand on, whichever way. */
  steep: number;
  disturbance: number;
  interior: number;
  /** Share of all parts but the steepness left along an edge. */
  factor: number;
}

export interface ResistanceParts extends LevelParts {
  /** What the relief adds by heading, which moves pay and the resistance leaves out: straight up, down and along. */
  up: number;
  down: number;
  along: number;
}

/**
 * Cost of a metre of travel against a metre of easy ground (firm, level, hidden, along an edge): at least 1,
 * finite wherever the slope is known, NaN elsewhere. One plus a sum of plain parts, so that any cell can be asked
 * why. Exposure grows with distance from cover (1 - e^-d/scale), less what screens at deer height and what canopy
 * covers. Faces are avoided from some angle and all but shut ten degrees beyond another. Climbing and sidehill depend
 * on the heading, so moves pay for them (`relief.ts`). Where screening or footing is unknown the assumed value stands
 * in, and the uncertainty runs vary it.
 */
export const resistanceOf = (inputs: ResistanceInputs, weights: Weights): Grid =>
  resistanceUnder(inputs)(weights);

/** The same under any weights: what does not hang on them is read off the features once. */
export function resistanceUnder(inputs: ResistanceInputs): (weights: Weights) => Grid {
  const { frame } = inputs.slope;
  assertOnFrame(
    frame,
    inputs.cover,
    inputs.canopy,
    inputs.screening,
    inputs.footing,
    inputs.slope,
    inputs.edgeDistance,
  );
  const marks = marksOf(frame, inputs.features);
  return (weights) => {
    const explain = levelPartsAt(inputs, marks, weights);
    const cells = new Float32Array(cellCount(frame));
    for (let i = 0; i < cells.length; i++) {
      const parts = explain(i);
      cells[i] = parts === null ? Number.NaN : totalOf(parts);
    }
    return { frame, cells };
  };
}

const totalOf = (p: LevelParts): number =>
  1 + (p.ground + p.exposure + p.footing + p.disturbance + p.interior) * p.factor + p.steep;

/** A function that tells the parts of a cell's resistance and relief, or null where the slope is unknown. */
export function partsAt(
  inputs: ResistanceInputs,
  weights: Weights,
): (cell: number) => Readonly<ResistanceParts> | null {
  const explain = levelPartsAt(inputs, marksOf(inputs.slope.frame, inputs.features), weights);
  return (cell) => {
    const parts = explain(cell);
    if (parts === null) return null;
    const tangent = Math.tan((Math.min(inputs.slope.cells[cell]!, 80) * Math.PI) / 180);
    return {
      ...parts,
      up: weights.climb * tangent,
      down: weights.descent * tangent,
      along: weights.sidehill * tangent * tangent,
    };
  };
}

/** The parts the relief adds nothing to, in the same object every time; null where the slope is unknown. */
function levelPartsAt(
  inputs: ResistanceInputs,
  marks: Marks,
  w: Weights,
): (cell: number) => Readonly<LevelParts> | null {
  const cover = inputs.cover.cells;
  const canopy = inputs.canopy.cells;
  const screening = inputs.screening.cells;
  const footing = inputs.footing.cells;
  const slope = inputs.slope.cells;
  const edge = inputs.edgeDistance.cells;

  const ground = new Float64Array(8);
  ground[0] = w.unknownCover;
  ground[COVER.brush] = w.brush;
  ground[COVER.deciduous] = w.deciduous;
  ground[COVER.evergreen] = w.evergreen;
  ground[COVER.wet] = w.wet;
  ground[COVER.water] = w.water;
  ground[COVER.built] = w.built;
  const inCover = new Uint8Array(8);
  for (const code of [COVER.brush, COVER.deciduous, COVER.evergreen]) inCover[code] = 1;

  const parts: LevelParts = {
    ground: 0,
    exposure: 0,
    footing: 0,
    steep: 0,
    disturbance: 0,
    interior: 0,
    factor: 1,
  };

  return (i) => {
    const steepness = slope[i]!;
    if (Number.isNaN(steepness)) return null;
    const creek = marks.creek[i] === 1 && cover[i] === COVER.water;
    const code = cover[i]!;
    const d = edge[i]!;
    parts.ground = creek ? 0 : ground[code]!;
    parts.exposure = 0;
    parts.interior = 0;
    parts.factor = 1;
    // Water and built-up ground are dear as they are; where cover is unknown, so is exposure.
    if (code !== 0 && code !== COVER.water && code !== COVER.built) {
      const drawn = marks.screening[i]!;
      const known = Number.isNaN(drawn) ? screening[i]! : drawn;
      let hidden = known;
      if (Number.isNaN(known)) hidden = inCover[code] ? w.unknownScreening : w.unknownOpenScreening;
      const shade = canopy[i]!;
      const shield = Number.isNaN(shade) ? 0 : w.canopyShield * shade;
      // Exposure grows from the edge outward and fades from the edge inward.
      const away = d > 0 ? 1 - Math.exp(-d / w.exposureDistance) : 0;
      const deep = d < 0 ? Math.exp(d / w.exposureDistance) : 1;
      const felt = w.exposureAtEdge * deep + (1 - w.exposureAtEdge) * away;
      parts.exposure = w.exposure * (1 - hidden) * (1 - shield) * felt;
      if (d < -w.edgeBand) parts.interior = w.interior;
      else if (d <= w.edgeBand) parts.factor = w.edgeFactor;
    }
    const ease = footing[i]!;
    parts.footing =
      code === COVER.water ? 0 : w.tangle * (1 - (Number.isNaN(ease) ? w.unknownFooting : ease));
    // The banks of a drawn creek are paid for by its crossing.
    parts.steep =
      marks.creek[i] === 1
        ? 0
        : (w.steep * Math.max(0, steepness - w.steepFrom)) / 10 +
          w.face * Math.min(1, Math.max(0, (steepness - w.faceFrom) / FACE_SPAN));
    const near = marks.building[i]!;
    parts.disturbance =
      near === Number.POSITIVE_INFINITY ? 0 : w.disturbance * Math.exp(-near / w.disturbanceDistance);
    return parts;
  };
}
