import ExifReader from 'exifreader';
import type { InputFile } from './inputs.ts';
import { checkedBytes } from './media.ts';
import { refusal } from './refusal.ts';

/** What a photo says of where and when it was taken. */
export interface PhotoFacts {
  /** WGS 84 degrees; null when the photo does not say. */
  position: [longitude: number, latitude: number] | null;
  /** Where the camera looked, degrees clockwise from true north; null when not said, or said from magnetic north. */
  bearing: number | null;
  /** Milliseconds since 1970 UTC; null without a date or without its offset from UTC. */
  taken: number | null;
}

/**
 * Reads the Exif 2.32 tags of a JPEG or HEIC photo (CIPA DC-008): GPS position and image direction, time taken.
 * A bearing from magnetic north is left out: the declination of the place and year is not known here.
 *
 * @throws Problem when the file is not a photo that can be read
 */
export function readPhoto(file: InputFile): PhotoFacts & { bytes: Uint8Array } {
  const bytes = checkedBytes(file);
  let tags: ExifReader.ExpandedTags;
  try {
    tags = ExifReader.load(Uint8Array.from(bytes).buffer, { expanded: true });
  } catch (error) {
    if (error instanceof ExifReader.errors.MetadataMissingError) return { ...factsOf({}), bytes };
    throw refusal(`${file.name} is not a photo that can be read`, {
      file: file.name,
      fix: 'save it as JPEG with its position and time kept',
    });
  }
  return { ...factsOf(tags), bytes };
}

function factsOf({ gps, exif }: Partial<ExifReader.ExpandedTags>): PhotoFacts {
  const { Latitude: latitude, Longitude: longitude } = gps ?? {};
  const placed =
    isWithin(latitude, 90) && isWithin(longitude, 180) && !(latitude === 0 && longitude === 0)
      ? ([longitude, latitude] as [number, number])
      : null;
  const magnetic = text(exif?.GPSImgDirectionRef) === 'M';
  return {
    position: placed,
    bearing: magnetic ? null : bearingOf(exif?.GPSImgDirection?.value),
    taken: takenAt(text(exif?.DateTimeOriginal), text(exif?.OffsetTimeOriginal)),
  };
}

const isWithin = (value: number | undefined, limit: number): value is number =>
  value !== undefined && Number.isFinite(value) && Math.abs(value) <= limit;

const text = (tag: { value: unknown } | undefined): string =>
  Array.isArray(tag?.value) ? String(tag.value[0] ?? '') : String(tag?.value ?? '');

function bearingOf(value: unknown): number | null {
  const [over, under] = Array.isArray(value) ? (value as number[]) : [];
  const degrees = (over ?? Number.NaN) / (under ?? Number.NaN);
  return degrees >= 0 && degrees <= 360 ? degrees % 360 : null;
}

/** Exif writes `2026:10:31 07:12:05`, and the offset apart. */
function takenAt(local: string, offset: string): number | null {
  const parts = /^(\d{4}):(\d\d):(\d\d) (\d\d:\d\d:\d\d)/.exec(local);
  if (!parts || !/^[+-]\d\d:\d\d$/.test(offset)) return null;
  const time = Date.parse(`${parts[1]}-${parts[2]}-${parts[3]}T${parts[4]}${offset}`);
  return Number.isNaN(time) ? null : time;
}
