import type { Wording } from './risk.ts';

/** Yards, feet and miles an hour, or metres, as the person reads them. */
export function wordingIn(units: 'us' | 'metric'): Wording {
  if (units === 'metric')
    return {
      distance: (m) => `${m < 100 ? Math.round(m) : Math.round(m / 10) * 10} m`,
      height: (m) => `${m.toFixed(1)} m`,
      speed: (v) => `${v.toFixed(1)} m/s`,
    };
  return {
    distance(m) {
      const yards = m / 0.9144;
      return `${yards < 100 ? Math.round(yards) : Math.round(yards / 10) * 10} yd`;
    },
    height: (m) => `${(m / 0.3048).toFixed(m < 3 ? 1 : 0)} ft`,
    speed: (v) => `${(v / 0.44704).toFixed(1)} mph`,
  };
}
