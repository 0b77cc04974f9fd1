import { expect, test } from 'vitest';
import type { ServiceContext } from '../../../electron/service/context.ts';
import { airHandlers } from '../../../electron/service/handlers/air.ts';
import type { HourAir } from '../../../electron/workers/inquiries/air.ts';

/** The air asked of the worker for a wind told by true north, on a grid turned by some degrees. */
async function askedAir(name: 'air.clock' | 'air.scent' | 'air.wayScent', convergence: number) {
  let air: HourAir | undefined;
  const seen = new Error('seen');
  const inquirer = {
    ask: (_: unknown, question: string, given: { air: HourAir } & HourAir) => {
      if (question === 'air.windGround') return Promise.resolve({ neutral: {}, stable: {} });
      if (question === 'air.clockNight')
        return Promise.resolve({ ground: {}, wind: 0.5, hours: [{ hours: 0 }] });
      air = question === 'air.clock' ? given : given.air;
      return Promise.reject(seen);
    },
    share: (work: Promise<unknown>) => work,
  };
  const frame = { longitude: -82, latitude: 38, convergence };
  const context = {
    inquiring: {
      within: (_: string, work: (asking: unknown) => unknown) => work(inquirer),
      begin: (work: (asking: unknown) => unknown) => work(inquirer),
    },
    property: {
      input: {
        frame,
        settings: { units: 'us', air: { cooling: 50, creekStage: 'dry' } },
        sources: { features: [] },
      },
      artifacts: {},
    },
  } as unknown as ServiceContext;
  const hour = { date: '2024-11-05', hour: 13, windFrom: 270, windSpeed: 4 };
  const path: [number, number][] = [
    [0, 0],
    [10, 0],
  ];
  const answers = {
    'air.clock': () => airHandlers['air.clock'](context, hour, null),
    'air.scent': () => airHandlers['air.scent'](context, { x: 0, y: 0, height: 5, ...hour }, null),
    'air.wayScent': () => airHandlers['air.wayScent'](context, { way: { path }, ...hour }, null),
  };
  await expect(answers[name]()).rejects.toBe(seen);
  return air!;
}

test.each(['air.clock', 'air.scent', 'air.wayScent'] as const)(
  '%s: a wind from true west comes from grid west less the convergence, once',
  async (name) => {
    expect((await askedAir(name, 0)).from).toBe(270);
    expect((await askedAir(name, 8)).from).toBe(262);
    expect((await askedAir(name, -3)).from).toBe(273);
  },
);
