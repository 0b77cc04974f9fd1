import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import { formatLength, formatShare, type Units } from '../../../core/features/units.ts';
import { cellAt, type Frame, type Point } from '../../../core/grid/frame.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { thinned } from '../../../core/grid/thinned.ts';
import { coarsen } from '../../../core/terrain/coarse.ts';
import { gradesAlong, type LineProfile, profileAlong } from '../../../core/terrain/profile.ts';
import { SIGHT, type SightLine, sightLine } from '../../../core/terrain/sight.ts';
import { COVER_STYLES } from '../../writers/palette.ts';
import { type Handlers, opened } from '../context.ts';
import type { ProfileAnswer } from '../contract.ts';

/** Most places of a profile the window gets. */
const PROFILE = 400;
/** The grade of a line is taken over this much of it on either side, m (our choice), and at least two cells. */
const GRADE_REACH = 5;

/** Bare-ground words for what a straight look between the ends of a line meets. */
function sightWords({ visible, obstruction }: SightLine, ground: readonly number[], units: Units): string {
  if (visible) return 'Its far end is in sight of its start over bare ground.';
  if (obstruction)
    return `Its far end is hidden from its start: ${formatLength(obstruction.distance, units)} out the ground stands ${formatLength(obstruction.above, units, 'height')} into the straight line.`;
  return ground.some(Number.isNaN)
    ? 'The ground at an end is not known, so nothing can be said of sight.'
    : 'Nothing can be said of sight.';
}

/** Classes under the line: which place has which, and how much of the line each takes. */
function coversOf(profile: LineProfile, cover: Artifacts['cover'] | undefined, frame: Frame) {
  const codes = profile.places.map(({ at }) => {
    const cell = cover ? cellAt(frame, ...at) : -1;
    return cell < 0 ? 0 : cover!.cells[cell]!;
  });
  const counts = new Map<number, number>();
  for (const code of codes) if (code !== 0) counts.set(code, (counts.get(code) ?? 0) + 1);
  const order = [...counts].sort((a, b) => b[1] - a[1]);
  const at = new Map(order.map(([code], n) => [code, n]));
  return {
    of: codes.map((code) => at.get(code) ?? null),
    covers: order.map(([code, count]) => {
      const { label, colour, pattern } = COVER_STYLES[code]!;
      return { label, colour, pattern, share: count / codes.length };
    }),
  };
}

function profileSentences(profile: LineProfile, steepest: number, units: Units): string[] {
  const { length, surfaceLength, climb, descent, known } = profile;
  const sentences = [
    `${formatLength(length, units)} on the level, ${formatLength(surfaceLength, units)} over the ground; ${formatLength(climb, units, 'height')} up and ${formatLength(descent, units, 'height')} down.`,
  ];
  if (steepest > 0) sentences.push(`The line itself is steepest at ${Math.round(steepest * 100)} %.`);
  if (known < 1) sentences.push(`The ground is not known under ${formatShare(1 - known)} of it.`);
  return sentences;
}

const orNull = (value: number): number | null => (Number.isNaN(value) ? null : value);

export const mapToolHandlers: Handlers<'map.profile' | 'map.heights'> = {
  'map.profile': async (context, { path, observerHeight, targetHeight }): Promise<ProfileAnswer> => {
    const { artifacts, input } = opened(context);
    const { frame, settings } = input;
    const { elevation } = input.sources;
    const profile = profileAlong(elevation, path as Point[]);
    if (profile.known === 0) {
      throw new Problem('The ground under that line is not known.', {
        fix: 'Draw it over ground inside the map.',
      });
    }
    const { of, covers } = coversOf(profile, artifacts.cover, frame);
    const grades = gradesAlong(profile.places, Math.max(GRADE_REACH, 2 * frame.cellSize));
    let steepest = 0;
    for (const grade of grades) if (Math.abs(grade) > steepest) steepest = Math.abs(grade);
    const slope = (at: Point): number | null => {
      const cell = artifacts.slope ? cellAt(frame, ...at) : -1;
      return cell < 0 ? null : orNull(artifacts.slope!.cells[cell]!);
    };
    const [from, to] = [path[0] as Point, path.at(-1) as Point];
    const sight = sightLine(elevation, from, to, {
      ...SIGHT,
      observerHeight,
      targetHeight,
      radius: Number.POSITIVE_INFINITY,
    });
    const ends = [profile.places[0]!.ground, profile.places.at(-1)!.ground];
    return {
      places: thinned(
        profile.places.map(({ distance, at, ground }, n) => ({
          distance,
          at,
          ground: orNull(ground),
          slope: slope(at),
          grade: orNull(grades[n]!),
          cover: of[n] ?? null,
        })),
        PROFILE,
      ),
      length: profile.length,
      surfaceLength: profile.surfaceLength,
      climb: profile.climb,
      descent: profile.descent,
      covers,
      sight: {
        visible: sight.visible,
        obstruction: sight.obstruction,
        sentence: sightWords(sight, ends, settings.units),
      },
      sentences: profileSentences(profile, steepest, settings.units),
      note: 'Lengths on the property’s grid, which a survey would not match to the foot; sight over bare ground, with the earth’s curve and refraction.',
    };
  },

  'map.heights': async (context, { most }) => {
    const { elevation } = opened(context).input.sources;
    const { width, height } = elevation.frame;
    const factor = Math.max(1, Math.ceil(Math.max(width, height) / most));
    const { frame, cells } = coarsen(elevation, factor);
    const bytes = new Uint8Array(12 + 4 * cells.length);
    const view = new DataView(bytes.buffer);
    [frame.width, frame.height, factor].forEach((value, n) => {
      view.setUint32(4 * n, value, true);
    });
    for (let i = 0; i < cells.length; i++) view.setFloat32(12 + 4 * i, cells[i]!, true);
    return bytes;
  },
};
