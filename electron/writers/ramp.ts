/**
 * Colour ramps mixed in Oklab (Ottosson 2020, "A perceptual color space for image processing"), where equal steps
 * look equal. Lightness runs one way along every ramp, so it reads without telling hues apart.
 */

export type Colour = readonly [red: number, green: number, blue: number];

/** A ramp of 256 colours, 3 bytes each. */
export type Ramp = Uint8Array;

export function rampOf(anchors: readonly string[]): Ramp {
  const points = anchors.map((anchor) => toOklab(parseColour(anchor)));
  const ramp = new Uint8Array(256 * 3);
  for (let step = 0; step < 256; step++) {
    const along = (step / 255) * (points.length - 1);
    const index = Math.min(Math.floor(along), points.length - 2);
    const share = along - index;
    const mixed = [0, 1, 2].map(
      (axis) => points[index]![axis]! * (1 - share) + points[index + 1]![axis]! * share,
    );
    ramp.set(fromOklab(mixed as [number, number, number]), step * 3);
  }
  return ramp;
}

export function parseColour(hex: string): Colour {
  const value = Number.parseInt(hex.slice(1), 16);
  return [value >> 16, (value >> 8) & 255, value & 255];
}

export const hexOf = (colour: Colour): string =>
  `#${colour.map((channel) => channel.toString(16).padStart(2, '0')).join('')}`;

export const rampColour = (ramp: Ramp, share: number): Colour => {
  const at = Math.round(Math.min(1, Math.max(0, share)) * 255) * 3;
  return [ramp[at]!, ramp[at + 1]!, ramp[at + 2]!];
};

const linear = (channel: number): number => {
  const share = channel / 255;
  return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
};

const gamma = (light: number): number => {
  const share = light <= 0.0031308 ? light * 12.92 : 1.055 * light ** (1 / 2.4) - 0.055;
  return Math.round(Math.min(1, Math.max(0, share)) * 255);
};

function toOklab(colour: Colour): [number, number, number] {
  const [r, g, b] = colour.map(linear) as [number, number, number];
  const l = Math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const m = Math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const s = Math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return [
    0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  ];
}

function fromOklab([lightness, a, b]: [number, number, number]): Colour {
  const l = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3;
  return [
    gamma(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
    gamma(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
    gamma(-0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s),
  ];
}
