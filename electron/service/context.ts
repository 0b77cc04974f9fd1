import { Problem } from '../../core/grid/problem.ts';
import type { Painter } from '../workers/painter.ts';
import type { Answer, RequestName, RequestParams, ServiceEvent } from './contract.ts';
import type { Inquiring } from './inquiring.ts';
import type { OpenProperty } from './open-property.ts';
import type { Scouting } from './scouting.ts';
import type { Shelf } from './shelf.ts';

export interface ServiceOptions {
  /** Where properties, staged drops and timings are kept. */
  dataFolder: string;
  host: 'electron' | 'loopback';
  version: string;
  /** The system's own dialog, where the host has one. */
  pick?: (what: 'folder' | 'file') => Promise<string | null>;
  /** Opens the sample property and starts a scout at once. */
  openSample?: boolean;
  /** Worker threads for the steps; default one a core, at most 8. */
  workers?: number;
}

/** What every handler works on. */
export interface ServiceContext {
  options: ServiceOptions;
  scouting: Scouting;
  inquiring: Inquiring;
  painter: Painter;
  shelf: Shelf;
  property: OpenProperty | null;
  /** Puts another property in the place of the open one, closing that first. */
  replace(property: OpenProperty | null): Promise<void>;
  emit(event: ServiceEvent): void;
}

/** What a question of the property needs. */
export type AskContext = Pick<ServiceContext, 'property' | 'inquiring'>;

export type Handler<N extends RequestName> = (
  context: ServiceContext,
  params: RequestParams<N>,
  binary: Uint8Array | null,
) => Promise<Answer<N>>;

export type Handlers<N extends RequestName> = { [K in N]: Handler<K> };

/** @throws Problem when no property is open. */
export function opened(context: Pick<ServiceContext, 'property'>): OpenProperty {
  if (!context.property) {
    throw new Problem('No property is open.', { fix: 'Open the sample or drop files in the window first.' });
  }
  return context.property;
}
