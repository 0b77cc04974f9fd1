import type { Service, ServiceEvent } from '../../../electron/service/contract.ts';

export interface FakeService extends Service {
  /** Every request that got through, in order. */
  taken: { name: string; params: unknown; binary: Uint8Array | null }[];
  emit(event: ServiceEvent): void;
  closed: boolean;
}

/** A service that answers with what a test gives it, and records what reached it. */
export function fakeService(
  answer: (name: string, params: unknown, binary: Uint8Array | null) => unknown,
): FakeService {
  const listeners = new Set<(event: ServiceEvent) => void>();
  const service: FakeService = {
    taken: [],
    closed: false,
    async handle(name, params, binary) {
      service.taken.push({ name, params, binary });
      return answer(name, params, binary);
    },
    listen(handler) {
      listeners.add(handler);
      return () => listeners.delete(handler);
    },
    emit(event) {
      for (const listener of listeners) listener(event);
    },
    async close() {
      service.closed = true;
    },
  };
  return service;
}
