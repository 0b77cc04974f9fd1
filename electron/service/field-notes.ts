import { createHash } from 'node:crypto';
import { placeAt } from '../../core/features/along-walk.ts';
import { type AttributeValue, type Feature, ofKind } from '../../core/features/feature.ts';
import { type Frame, frameExtent, type Point } from '../../core/grid/frame.ts';
import { Problem } from '../../core/grid/problem.ts';
import { clipBegan } from '../readers/clip.ts';
import { crsDefinition, transform, WGS84 } from '../readers/crs.ts';
import type { InputFile } from '../readers/inputs.ts';
import { isPhoto, photoType } from '../readers/media.ts';
import { readPhoto } from '../readers/photo.ts';
import type { Media } from '../store/media-table.ts';

export interface FieldNotes {
  notes: Feature[];
  pictures: Media[];
  /** Files that could not be placed or read, each with why. */
  left: Problem[];
}

/**
 * Photos and clips as notes on the map: a photo where it says it was taken, else, like a clip, where the walk was at
 * that time. Only photos are kept; of a clip its name and place.
 */
export function readFieldNotes(
  files: readonly InputFile[],
  features: readonly Feature[],
  frame: Frame,
): FieldNotes {
  const walks = ofKind(features, 'walk');
  const found: FieldNotes = { notes: [], pictures: [], left: [] };
  for (const file of files) {
    try {
      if (isPhoto(file.name)) {
        const { note, picture } = fromPhoto(file, walks, frame);
        found.notes.push(note);
        found.pictures.push(picture);
      } else found.notes.push(fromClip(file, walks));
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      found.left.push(error);
    }
  }
  return found;
}

function fromPhoto(file: InputFile, walks: Feature[], frame: Frame): { note: Feature; picture: Media } {
  const { name } = file;
  const { position, bearing, taken, bytes } = readPhoto(file);
  const at = position
    ? transform(WGS84, crsDefinition(frame.epsg))(...position)
    : placeAlong(name, taken, walks);
  const [west, south, east, north] = frameExtent(frame);
  if (at[0] < west || at[0] > east || at[1] < south || at[1] > north) {
    throw new Problem(`${name} was taken off this map.`, {
      file: name,
      fix: 'Check that it belongs to this property.',
    });
  }
  const id = digest(bytes);
  const attributes = { photo: id, ...(bearing === null ? {} : { bearing }) };
  return {
    note: noteAt(at, name, taken, attributes),
    picture: { id, name, type: photoType(name), bytes },
  };
}

function fromClip(file: InputFile, walks: Feature[]): Feature {
  const began = clipBegan(file);
  return noteAt(placeAlong(file.name, began, walks), file.name, began, { clip: file.name });
}

function placeAlong(name: string, time: number | null, walks: Feature[]): Point {
  const at = time === null ? null : placeAt(walks, time / 1000);
  if (at) return at;
  throw time === null
    ? new Problem(`${name} says neither where nor, with its time zone, when it was taken.`, {
        file: name,
        fix: 'Draw a note on the map where it belongs.',
      })
    : new Problem(`${name} does not say where it was taken, and no walk was under way then.`, {
        file: name,
        fix: 'Drop the GPX track of the walk first, then this file again.',
      });
}

const digest = (content: Uint8Array | string): string =>
  createHash('sha256').update(content).digest('hex').slice(0, 16);

const noteAt = (
  at: Point,
  name: string,
  time: number | null,
  attributes: Record<string, AttributeValue>,
): Feature => ({
  // Cameras count their pictures from one again: the name alone would take one for another.
  id: `note-${digest(`${name} ${time}`)}`,
  kind: 'note',
  status: 'existing',
  name: null,
  geometry: { type: 'Point', coordinates: at },
  attributes: { ...attributes, ...(time === null ? {} : { taken: new Date(time).toISOString() }) },
  source: name,
});
