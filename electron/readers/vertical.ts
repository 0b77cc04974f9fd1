import { type LengthUnit, METRES, unitInWords } from './crs.ts';
import type { PointCloud } from './las.ts';
import { pixelSize } from './placement.ts';
import type { Raster } from './raster.ts';
import { refusal } from './refusal.ts';

/** Key of the answer that overrides what files state; for a unit that was stated wrong. */
export const UNIT_FOR_ALL = 'verticalUnitForAll';

export const UNIT_LABELS: Record<LengthUnit, string> = {
  metre: 'metres',
  foot: 'feet (international)',
  'us-survey-foot': 'US survey feet',
};

/** How many metres one unit of a file's heights is, and how that is known. */
export interface VerticalScale {
  metres: number;
  unit: LengthUnit;
  note: string;
}

/**
 * The unit of a file's heights: the person's word for all files; else what the file states; else the person's word
 * for files that state none; else what the publisher's own product definition fixes.
 * @param answers of property.json: `verticalUnitForAll`, `verticalUnit`
 * @throws Problem with the question when nothing settles it
 */
export function verticalScale(raster: Raster | PointCloud, answers: Record<string, string>): VerticalScale {
  const { name } = raster;
  const forAll = answered(answers, UNIT_FOR_ALL);
  if (forAll)
    return scale(
      forAll,
      `${name}: heights are taken in ${UNIT_LABELS[forAll]}, as answered, whatever the file states`,
    );
  if (raster.verticalUnit)
    return scale(
      raster.verticalUnit,
      `${name}: heights are in ${UNIT_LABELS[raster.verticalUnit]}, as the file states`,
    );
  const unit = answered(answers, 'verticalUnit');
  if (unit) return scale(unit, `${name}: heights are taken in ${UNIT_LABELS[unit]}, as answered`);
  const standard = 'levels' in raster ? publishedInMetres(raster) : null;
  if (standard) return scale('metre', `${name}: heights are taken in metres; ${standard}`);
  throw refusal(`${name} does not state whether its heights are in metres or feet`, {
    file: name,
    fix: 'look up the unit on the page it was downloaded from, and answer',
    question: { key: 'verticalUnit', choices: unitChoices() },
  });
}

export const unitChoices = (): { value: LengthUnit; label: string }[] =>
  (Object.keys(UNIT_LABELS) as LengthUnit[]).map((value) => ({ value, label: UNIT_LABELS[value] }));

function answered(answers: Record<string, string>, key: string): LengthUnit | null {
  const answer = answers[key];
  if (answer === undefined) return null;
  const unit = unitInWords(answer);
  if (unit) return unit;
  throw refusal(`“${answer}” is not a unit of height`, {
    file: 'property.json',
    fix: `set answers.${key} to metre, foot or us-survey-foot`,
  });
}

const scale = (unit: LengthUnit, note: string): VerticalScale => ({ metres: METRES[unit], unit, note });

/**
 * Public products whose definition fixes metres:
 * - SRTM: 16-bit whole metres on WGS 84 geographic cells of exactly 1 or 3 arc-seconds (Farr et al.,
 *   "The Shuttle Radar Topography Mission", Reviews of Geophysics 45, 2007: heights in metres above the geoid).
 * - USGS seamless elevation at 1/3, 1 and 2 arc-seconds (32-bit floating point on NAD83) and its 1 m tiles, whose
 *   specification (USGS Techniques and Methods 11-B7, 2015) gives heights in metres; told by their spacing, or by the
 *   published file names, which start USGS_13_, USGS_1_, USGS_2_ or USGS_1M_. Value from memory.
 */
function publishedInMetres(raster: Raster): string | null {
  const { format, bits } = raster.levels[0]!;
  const [across, down] = pixelSize(raster).map((degrees) => degrees * 3600) as [number, number];
  const spaced = (seconds: number) =>
    raster.crs.geographic &&
    Math.abs(across - seconds) < 1e-6 * seconds &&
    Math.abs(down - seconds) < 1e-6 * seconds;
  if (raster.crs.epsg === 4326 && format === 2 && bits === 16)
    for (const seconds of [1, 3])
      if (spaced(seconds))
        return `16-bit geographic cells of exactly ${seconds} arc-second${seconds > 1 ? 's' : ''} are the SRTM product, which is defined in metres`;
  if (raster.crs.epsg === 4269 && format === 3 && bits === 32 && (spaced(1 / 3) || spaced(1) || spaced(2)))
    return 'floating-point NAD83 cells of exactly that many arc-seconds are the USGS seamless elevation, which is published in metres';
  if (/^usgs_(13|1|2|1m)_/i.test(raster.name))
    return 'its name is that of a USGS elevation tile, a product published in metres';
  return null;
}
