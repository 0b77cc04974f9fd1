import type { Sources } from '../../core/analysis/artifacts.ts';
import { DEFAULT_SETTINGS, type Settings } from '../../core/analysis/settings.ts';
import type { Imagery } from '../../core/cover/types.ts';
import { ofKind } from '../../core/features/feature.ts';
import type { Frame } from '../../core/grid/frame.ts';
import { type Progress, part, silent } from '../../core/grid/progress.ts';
import { lonLatBox } from './boundary.ts';
import { checkOwnedGround } from './coverage.ts';
import { WGS84 } from './crs.ts';
import { readElevation } from './elevation.ts';
import { chooseFrame } from './frame.ts';
import { displayFrame, meets, readImagery } from './imagery.ts';
import type { InputSet } from './inputs.ts';
import { readLandcover } from './landcover.ts';
import { missingFrom } from './missing.ts';
import { type Box, footprint, type Placed } from './placement.ts';
import { openSources } from './property-rasters.ts';
import { placeFeatures, readAllVectors } from './property-vectors.ts';
import { readSettings } from './settings.ts';
import { hashFile } from './source.ts';
import { readSurroundings } from './surroundings.ts';
import type { HeldFile } from './to-fetch.ts';
import { UNIT_FOR_ALL } from './vertical.ts';
import { readWind } from './wind.ts';

export interface Imported {
  frame: Frame;
  sources: Sources;
  settings: Settings;
  /** What the readers found out or decided, in plain words. */
  notes: string[];
  /** What was not given, and what each missing piece costs the answer. */
  missing: string[];
  /** The photo on finer cells of the same extent, for the map; null when it is no finer than the frame. */
  display: Imagery | null;
  files: { name: string; hash: string }[];
}

/**
 * Brings a property's files onto one frame.
 * @param options.settings override property.json; `answers` settle what the files do not state
 * @throws Problem naming the file and the fix; Cancelled through `progress`
 */
export async function readProperty(
  inputs: InputSet,
  options: { settings?: Partial<Settings>; answers?: Record<string, string>; progress?: Progress } = {},
): Promise<Imported> {
  const progress = options.progress ?? silent;
  const settings = settingsOf(inputs, options);
  const notes: string[] = [];
  const vectors = await readAllVectors(inputs, notes);
  const wind = inputs.wind.length > 0 ? readWind(inputs.wind, settings.answers) : null;
  const box = vectors.boundary.length > 0 ? lonLatBox(vectors.boundary) : null;
  const { answers } = settings;
  const { elevation, photos, covers, around, close } = await openSources(
    inputs,
    answers,
    box,
    settings.margin,
    notes,
  );
  try {
    const places = elevation.map(({ source }) => source);
    const chosen = chooseFrame(places, box, settings.cellSize, settings.margin);
    const { frame } = chosen;
    notes.push(...chosen.notes);
    if (box) checkCovered(box, places, notes);
    else notes.push('No boundary was given; the whole raster is taken as the property');

    const near = elevation.filter(({ source }) => meets(source, frame));
    const ground = await readElevation(
      // A frame in the gap between tiles meets none; then all are tried, and the refusal names them.
      near.length > 0 ? near : elevation,
      frame,
      UNIT_FOR_ALL in answers || 'verticalUnit' in answers,
      part(progress, 0, 0.4),
    );
    notes.push(...ground.notes);
    let imagery: Imagery | null = null;
    let display: Imagery | null = null;
    if (photos.length > 0) {
      const usable = photos.filter((photo) => meets(photo, frame));
      const read = await readImagery(usable.length > 0 ? usable : photos, frame, part(progress, 0.4, 0.6));
      imagery = read.imagery;
      notes.push(...read.notes);
      const sharp = displayFrame(usable, frame);
      if (sharp) display = (await readImagery(usable, sharp, part(progress, 0.6, 0.8))).imagery;
    }
    let landcover: Sources['landcover'] = null;
    if (covers.length > 0) {
      const read = await readLandcover(covers, frame, part(progress, 0.8, 0.85));
      landcover = read.landcover;
      notes.push(...read.notes);
    }
    const surroundings =
      box &&
      (await readSurroundings(
        { elevation: around, photos, covers },
        frame,
        box,
        settings.margin,
        part(progress, 0.85, 0.9),
      ));
    const features = placeFeatures(vectors, frame, notes);
    if (box)
      notes.push(
        ...checkOwnedGround(
          ofKind(features, 'boundary'),
          ground.elevation,
          places.map(({ name }) => name).join(', '),
        ),
      );
    if (wind) notes.push(...wind.notes);
    else for (const { name } of inputs.wind) notes.push(`${name} is left out, as asked`);
    for (const file of inputs.unknown)
      notes.push(`${file.name} is not used: its name or content does not say what it is for`);

    const used = [
      ...inputs.elevation,
      ...inputs.imagery,
      ...inputs.landcover,
      ...inputs.boundary,
      ...inputs.features,
      ...inputs.wind,
      ...(inputs.settings ? [inputs.settings] : []),
    ];
    const files: Imported['files'] = [];
    for (const [i, { name, path }] of used.entries()) {
      files.push({ name, hash: await hashFile(path, name) });
      progress(0.9 + (0.1 * (i + 1)) / used.length);
    }
    const holding = (kind: HeldFile['kind'], rasters: Placed[]): HeldFile[] =>
      rasters.map((raster) => ({ kind, name: raster.name, box: footprint(raster, WGS84) }));
    const held = [
      ...holding('elevation', places),
      ...holding('imagery', photos),
      ...holding('land cover', covers),
    ];
    const { vegetation, holes } = ground;
    const sources: Sources = {
      elevation: ground.elevation,
      imagery,
      landcover,
      vegetation,
      holes,
      surroundings,
      features,
      wind,
    };
    return {
      frame,
      sources,
      settings,
      notes: [...new Set(notes)],
      missing: missingFrom(sources, box !== null, held),
      display,
      files,
    };
  } finally {
    await close();
  }
}

function settingsOf(
  inputs: InputSet,
  { settings = {}, answers = {} }: { settings?: Partial<Settings>; answers?: Record<string, string> },
): Settings {
  const own: Settings = inputs.settings ? readSettings(inputs.settings) : { ...DEFAULT_SETTINGS };
  if (own.name === DEFAULT_SETTINGS.name) own.name = inputs.name;
  return { ...own, ...settings, answers: { ...own.answers, ...settings.answers, ...answers } };
}

/** Says when the boundary reaches beyond the elevation. The frame was refused already if they do not meet at all. */
function checkCovered(box: Box, rasters: Placed[], notes: string[]): void {
  const boxes = rasters.map((raster) => footprint(raster, WGS84));
  const west = Math.min(...boxes.map((b) => b[0]));
  const south = Math.min(...boxes.map((b) => b[1]));
  const east = Math.max(...boxes.map((b) => b[2]));
  const north = Math.max(...boxes.map((b) => b[3]));
  if (box[0] < west || box[1] < south || box[2] > east || box[3] > north)
    notes.push('The boundary reaches beyond the elevation; what lies outside it cannot be judged');
}
