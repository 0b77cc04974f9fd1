import { defineConfig } from 'vitest/config';

/** Whole runs of the program: each takes every core by itself, and some time what a person waits for. */
const whole = [
  'tests/electron/command.test.ts',
  'tests/electron/limits.test.ts',
  'tests/electron/loopback.test.ts',
  'tests/electron/service/*.test.ts',
  'tests/electron/host/{launch,loopback-browser,responsive,service-process}.test.ts',
  'tests/electron/writers/paint.test.ts',
  'tests/renderer/{e2e/**/*,window,hand,shelf,ground-asks,travel-asks,map-tools,air,work-asks,stands,stands-search,stands-when,client-views,pictures,painting}.test.ts',
  'tests/sample/{whole-job,scenario}.test.ts',
];

const shared = { testTimeout: 120_000, hookTimeout: 240_000, pool: 'forks' } as const;

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          ...shared,
          name: 'parts',
          include: ['tests/**/*.test.ts'],
          exclude: whole,
          maxWorkers: 2,
          sequence: { groupOrder: 0 },
        },
      },
      {
        test: {
          ...shared,
          name: 'whole',
          include: whole,
          globalSetup: ['tests/electron/service/shared-sample.ts'],
          maxWorkers: 1,
          fileParallelism: false,
          // A real browser and the clock are in these: once more before a hiccup of the machine counts.
          retry: 1,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
