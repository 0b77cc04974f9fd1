import type { ServiceOptions } from '../service/context.ts';
import type { Service } from '../service/contract.ts';
import { replyOf } from './trouble.ts';
import type { FromService, ToService } from './wire.ts';

/**
 * The service's end of the line to Electron's main process. Requests that arrive while the service starts wait
 * for it; a service that cannot start answers each with the reason.
 */
export function servePort(
  post: (message: FromService) => void,
  create: (options: ServiceOptions) => Promise<Service>,
): (message: ToService) => void {
  const picks = new Map<number, (path: string | null) => void>();
  let nextPick = 1;
  let service: Promise<Service> = Promise.reject(new Error('the service was not started'));
  service.catch(() => {});

  const pick = (what: 'folder' | 'file') =>
    new Promise<string | null>((resolve) => {
      const id = nextPick++;
      picks.set(id, resolve);
      post({ type: 'pick', id, what });
    });

  return (message) => {
    switch (message.type) {
      case 'start': {
        const { dataFolder, version, openSample } = message;
        service = create({ dataFolder, version, openSample, host: 'electron', pick });
        service.then(
          (made) => made.listen((event) => post({ type: 'event', event })),
          (error: unknown) => console.error(error),
        );
        break;
      }
      case 'request': {
        const { id, name, params, binary } = message;
        void replyOf(async () => (await service).handle(name, params, binary)).then((reply) =>
          post({ type: 'reply', id, reply }),
        );
        break;
      }
      case 'picked':
        picks.get(message.id)?.(message.path);
        picks.delete(message.id);
        break;
      case 'close':
        void service
          .then((made) => made.close())
          .catch((error: unknown) => console.error(error))
          .finally(() => post({ type: 'closed' }));
        break;
    }
  };
}
