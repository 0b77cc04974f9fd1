import { FEATURE_KINDS, type Feature, type FeatureKind } from '../../core/features/feature.ts';
import { Problem } from '../../core/grid/problem.ts';
import type { RequestParams } from './contract.ts';

const isKind = (kind: string): kind is FeatureKind => (FEATURE_KINDS as readonly string[]).includes(kind);

/** @throws Problem when it is of no known kind */
export function checkFeature(feature: RequestParams<'features.put'>['feature']): Feature {
  const { kind } = feature;
  if (isKind(kind)) return { ...feature, kind } as Feature;
  throw new Problem(`“${kind}” is not a kind of feature.`, {
    fix: `Use one of: ${FEATURE_KINDS.join(', ')}.`,
  });
}
