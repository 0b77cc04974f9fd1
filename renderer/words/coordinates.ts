import proj4 from 'proj4';
import type { FrameSummary } from '../../electron/service/contract.ts';

export interface Geographic {
  longitude: number;
  latitude: number;
}

/** Frame coordinates (m) to degrees, WGS 84, and back, by the frame's own definition. */
export function geographer(frame: Pick<FrameSummary, 'proj4'>): {
  toGeographic(x: number, y: number): Geographic;
  toFrame(place: Geographic): [number, number];
} {
  const converter = proj4(frame.proj4, 'WGS84');
  return {
    toGeographic: (x, y) => {
      const [longitude, latitude] = converter.forward([x, y]) as [number, number];
      return { longitude, latitude };
    },
    toFrame: ({ longitude, latitude }) => converter.inverse([longitude, latitude]) as [number, number],
  };
}

/** `39.42318° N, 82.11077° W`: five decimals are about a yard, the honest most of a map like this. */
export function degrees({ longitude, latitude }: Geographic): string {
  const part = (value: number, positive: string, negative: string) =>
    `${Math.abs(value).toFixed(5)}° ${value < 0 ? negative : positive}`;
  return `${part(latitude, 'N', 'S')}, ${part(longitude, 'E', 'W')}`;
}

/** `16 N 573204 E 4364020 N`, or the code with the numbers where the frame is no UTM zone. */
export function gridCoordinates(epsg: number, x: number, y: number): string {
  const numbers = `${Math.floor(x)} E ${Math.floor(y)} N`;
  const zone = utmZone(epsg);
  return zone ? `UTM ${zone} ${numbers}` : `EPSG:${epsg} ${numbers}`;
}

/** `16N` for the WGS 84, NAD83 and ETRS89 families of UTM codes; null for any other frame. */
export function utmZone(epsg: number): string | null {
  const families: [number, number, number, string][] = [
    [32601, 32660, 32600, 'N'],
    [32701, 32760, 32700, 'S'],
    [26901, 26923, 26900, 'N'],
    [25828, 25838, 25800, 'N'],
  ];
  for (const [first, last, base, half] of families)
    if (epsg >= first && epsg <= last) return `${epsg - base}${half}`;
  return null;
}

/**
 * Reads a typed position: `39.42318, -82.11077`, or with N/S/E/W letters, latitude first.
 * Null where the text is not a position.
 */
export function parsePosition(text: string): Geographic | null {
  const match = /^\s*(-?\d+(?:\.\d+)?)\s*°?\s*([NS])?\s*[,;\s]\s*(-?\d+(?:\.\d+)?)\s*°?\s*([EW])?\s*$/i.exec(
    text,
  );
  if (!match) return null;
  const signed = (number: string, letter: string | undefined, negative: string) =>
    Number(number) * (letter?.toUpperCase() === negative ? -1 : 1);
  const latitude = signed(match[1]!, match[2], 'S');
  const longitude = signed(match[3]!, match[4], 'W');
  if (Math.abs(latitude) > 90 || Math.abs(longitude) > 180) return null;
  return { latitude, longitude };
}
