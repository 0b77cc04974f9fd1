import { refused, troubleOf } from '../host/trouble.ts';
import { createPainter } from '../workers/painter.ts';
import { createStepPool } from '../workers/step-pool.ts';
import type { ServiceContext, ServiceOptions } from './context.ts';
import { type RequestName, requests, type Service, type ServiceEvent, TroubleError } from './contract.ts';
import { airHandlers } from './handlers/air.ts';
import { askHandlers } from './handlers/ask.ts';
import { briefHandlers } from './handlers/brief.ts';
import { coverHandlers } from './handlers/cover.ts';
import { draftHandlers } from './handlers/draft.ts';
import { editHandlers } from './handlers/edit.ts';
import { fitHandlers } from './handlers/fit.ts';
import { groundHandlers } from './handlers/ground.ts';
import { handHandlers } from './handlers/hand.ts';
import { hoursHandlers } from './handlers/hours.ts';
import { importHandlers } from './handlers/import.ts';
import { logHandlers } from './handlers/log.ts';
import { mapHandlers } from './handlers/map.ts';
import { mapToolHandlers } from './handlers/map-tools.ts';
import { pictureHandlers } from './handlers/pictures.ts';
import { propertyHandlers } from './handlers/property.ts';
import { reportHandlers } from './handlers/report.ts';
import { scoutHandlers } from './handlers/scout.ts';
import { screenHandlers } from './handlers/screens.ts';
import { keepSmallMap, shelfHandlers } from './handlers/shelf.ts';
import { standsHandlers } from './handlers/stands.ts';
import { standsSearchHandlers } from './handlers/stands-search.ts';
import { travelHandlers } from './handlers/travel.ts';
import { variantHandlers } from './handlers/variants.ts';
import { verdictHandlers } from './handlers/verdict.ts';
import { walkHandlers } from './handlers/walk.ts';
import { workHandlers } from './handlers/work.ts';
import { createInquiring, INQUIRIES_AT_ONCE } from './inquiring.ts';
import { createScouting } from './scouting.ts';
import { createShelf } from './shelf.ts';

const handlers = {
  ...propertyHandlers,
  ...shelfHandlers,
  ...importHandlers,
  ...editHandlers,
  ...scoutHandlers,
  ...mapHandlers,
  ...mapToolHandlers,
  ...pictureHandlers,
  ...coverHandlers,
  ...askHandlers,
  ...groundHandlers,
  ...handHandlers,
  ...travelHandlers,
  ...fitHandlers,
  ...variantHandlers,
  ...draftHandlers,
  ...airHandlers,
  ...verdictHandlers,
  ...hoursHandlers,
  ...workHandlers,
  ...briefHandlers,
  ...walkHandlers,
  ...standsHandlers,
  ...screenHandlers,
  ...logHandlers,
  ...standsSearchHandlers,
  ...reportHandlers,
};

const refusal = (message: string) => new TroubleError(refused(message, 'Reload the window.'));

/**
 * The one service behind both hosts. Each request is checked against the contract before a handler sees it;
 * requests that change the property run one after another, those that only read run beside them.
 */
export async function createService(options: ServiceOptions): Promise<Service> {
  const listeners = new Set<(event: ServiceEvent) => void>();
  const emit = (event: ServiceEvent) => {
    for (const listener of listeners) listener(event);
  };
  const pool = createStepPool(options.workers);
  const inquiryPool = createStepPool(INQUIRIES_AT_ONCE);
  const inquiring = createInquiring(inquiryPool, emit);
  const painter = createPainter();
  const scouting = createScouting(pool, options.dataFolder, emit);
  const context: ServiceContext = {
    options,
    scouting,
    inquiring,
    painter,
    shelf: createShelf(options.dataFolder),
    emit,
    property: null,
    async replace(property) {
      inquiring.cancel();
      await scouting.cancel();
      await context.property?.store.close();
      context.property = property;
    },
  };

  listeners.add((event) => {
    if (event.type === 'scout.done') void keepSmallMap(context);
  });

  const changing =
    /^(property\.(open|openSample|pick)|import\.finish|shelf\.(copy|backup|restore)|settings\.|features\.|walk\.answer|pictures\.keep|cover\.paint|edit\.)/;
  let turn: Promise<unknown> = Promise.resolve();

  if (options.openSample) {
    turn = handlers['property.openSample'](context, {}, null).then(
      (summary) => emit({ type: 'property.changed', summary }),
      (error) => emit({ type: 'host.trouble', trouble: troubleOf(error) }),
    );
  }

  return {
    async handle(name, params, binary) {
      if (name !== 'host.describe' && !Object.hasOwn(handlers, name))
        throw refusal(`The window asked for “${name}”, which the service does not know.`);
      const checked = requests[name as RequestName].safeParse(params);
      if (!checked.success) {
        const { path, message } = checked.error.issues[0]!;
        throw refusal(`The window sent a wrong “${name}”: ${path.join('.')} ${message}.`);
      }
      if (name === 'host.describe') {
        return { host: options.host, version: options.version, canPick: options.pick !== undefined };
      }
      const handler = handlers[name as keyof typeof handlers] as (
        context: ServiceContext,
        params: unknown,
        binary: Uint8Array | null,
      ) => Promise<unknown>;
      const work = () => handler(context, checked.data, binary);
      // A window that starts while the sample is still being read waits for it rather than showing an empty start.
      if (name === 'property.summary') return turn.then(work, work);
      if (!changing.test(name)) return work();
      const result = turn.then(work, work);
      turn = result.catch(() => {});
      return result;
    },
    listen(handler) {
      listeners.add(handler);
      return () => listeners.delete(handler);
    },
    async close() {
      await turn.catch(() => {});
      await context.replace(null);
      await Promise.all([pool.close(), inquiryPool.close(), painter.close()]);
    },
  };
}
