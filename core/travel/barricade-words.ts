import { formatLength, type Units } from '../features/units.ts';
import type { BarricadeCheck } from './types.ts';

/** What a barricade does, with the gaps at its ends in the user's units. */
export function barricadeSentences(check: BarricadeCheck, units: Units): string[] {
  const [first, ...dearer] = check.ways.flatMap(({ way, cost }) =>
    cost === null ? [] : [`${formatLength(cost, units)} ${way}`],
  );
  const none = check.ways.filter(({ cost }) => cost === null).map(({ way }) => way);
  return [
    ...check.reasons,
    ...(first
      ? [
          `It costs a deer as much as ${[first, ...dearer].join(', ')}, in easy ground${none.length > 0 ? `; there is no way ${none.join(' or ')}` : ''}.`,
        ]
      : []),
    ...check.ends.flatMap(({ side, gap }) =>
      gap
        ? [
            `The gap at its ${side} end is ${formatLength(gap.distance, units)} wide: carry it on to the ${gap.to}.`,
          ]
        : [],
    ),
  ];
}
