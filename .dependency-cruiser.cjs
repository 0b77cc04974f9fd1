/** The import directions DESIGN.md and DEVELOPERS.md draw; `npm run check:imports` holds them. */
const rooms = ['grid', 'features', 'terrain', 'cover', 'travel', 'air', 'stands', 'plan', 'analysis'];
const siblings = [['travel', 'air']];

const laterRooms = rooms.flatMap((room, index) => {
  const later = rooms.slice(index + 1);
  return later.length === 0
    ? []
    : [
        {
          name: `core-${room}-imports-no-later-room`,
          severity: 'error',
          from: { path: `^core/${room}/` },
          to: { path: `^core/(${later.join('|')})/` },
        },
      ];
});

module.exports = {
  forbidden: [
    {
      name: 'no-circles',
      severity: 'error',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    ...laterRooms,
    ...siblings.flatMap(([a, b]) => [
      {
        name: `core-${b}-does-not-import-${a}`,
        severity: 'error',
        from: { path: `^core/${b}/` },
        to: { path: `^core/${a}/` },
      },
    ]),
    {
      name: 'core-is-pure',
      comment: 'core knows no host: only itself, d3-contour and turf',
      severity: 'error',
      from: { path: '^core/' },
      to: { pathNot: ['^core/', 'node_modules/d3-contour', 'node_modules/@turf', '^geojson$'] },
    },
    {
      name: 'window-speaks-only-the-contract',
      severity: 'error',
      from: { path: '^renderer/' },
      to: {
        path: '^(core|electron)/',
        pathNot: [
          '^electron/service/contract\\.ts$',
          '^core/[^/]+/types\\.ts$',
          '^core/grid/frame\\.ts$',
          '^core/features/(units|feature)\\.ts$',
          '^core/analysis/report\\.ts$',
        ],
      },
    },
    {
      name: 'service-knows-no-window',
      severity: 'error',
      from: { path: '^electron/' },
      to: { path: '^renderer/' },
    },
    {
      name: 'only-the-window-host-knows-electron',
      severity: 'error',
      from: { path: '^(core|renderer|electron/(service|store|readers|writers|workers))/' },
      to: { path: 'node_modules/electron/' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    parser: 'swc',
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { extensions: ['.ts', '.tsx', '.js', '.json'] },
  },
};
