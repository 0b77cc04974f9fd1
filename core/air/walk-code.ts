import {
  type Code,
  f32,
  f32x4,
  get,
  i32,
  i32x4,
  i64,
  moduleOf,
  repeatWhile,
  select,
  set,
  VALUE,
  v128,
} from '../grid/wasm.ts';

/*
 * The scent walk of `particles.ts` for the vector unit: four particles a vector and four vectors side by side, from
 * their release to the last step, in 32-bit floats. Written as WebAssembly because an engine makes of the same loop in
 * TypeScript a fifth of the steps a second (a check of bounds at each look-up, one particle at a time). `walk.ts` lays
 * out the memory, and the test of it takes the same steps in plain words.
 */

/** Vectors side by side, so that the steps of one do not wait for those of the other; and particles in them. */
const SIDE_BY_SIDE = 4;
export const TOGETHER = 4 * SIDE_BY_SIDE;

/** Fixed places in the memory, bytes. */
export const AT = {
  /** For each vector 2 words by 4 lanes: a generator of `random.ts` in each lane. */
  random: 0,
  /** Counts what is no visit, in a word of its own for each lane, so that they do not wait for each other. */
  spare: 128,
  /** Pairs of normal numbers without their signs (`HALF_NORMALS`). */
  normals: 256,
  /** Pairs: wind at a height over that of the field, twice, for every half metre. */
  shear: 256 + 8 * 2048,
  /** Pairs: root of the growth of variance per metre across, and upwards times the spacing, by distance. */
  spread: 256 + 8 * 2048 + 8 * 512,
} as const;
/** Heights of the table of shear: the last stands for all above. */
export const SHEAR_PLACES = 512;

/** Deer carry their noses below this height, m. */
const NOSE = 2;
/** What a visit adds to its cell's word: one above this bit, the step's number below. */
export const VISIT_BIT = 36;
/** Bytes of a vector of particles: x, y, z, address of the cell and of the place in the spread table, `middle`. */
export const VECTOR = 96;

// Parameters, 32-bit whole numbers: address and count of what walks together, steps, addresses of
// the cells' moves and visits, cells across the map with the ring round it, the last place of the spread table.
const [groups, count, steps, cells, visits, width, last] = [0, 1, 2, 3, 4, 5, 6];
const step = 7;
const target = 8;
const visit = 9;
/** Numbers that stay the same, in every lane of a vector. */
const [stride, cellsAt, visitsAt, lastPlace] = [10, 11, 12, 13];
const [nose, pairs, signBit, lastShear] = [14, 15, 16, 17];
const OWN = 18;
const OWN_COUNT = 23;

const whole = (value: number): Code => i32x4.splat(i32.const(value));
const bits = (count: number): Code => i32.const(count);
/** Every second word of two vectors, and the others. */
const EVEN = [0, 2, 4, 6];
const ODD = [1, 3, 5, 7];

/**
 * Four particles: what to do before their first step, at each, and after the last.
 *
 * @param sheared the wind that carries them is that of their height; they spread as in the field's
 */
function fourOf(which: number, sheared: boolean) {
  const own = (k: number): number => OWN + OWN_COUNT * which + k;
  const [a, b, t] = [own(0), own(1), own(2)];
  // `middle` is how far the middle of a step lies along the way, in places of the spread table.
  const [x, y, z, middle] = [own(3), own(4), own(5), own(6)];
  // Address of each lane's cell and place in the spread table, and of the word its visit goes to.
  const [cell, place, word] = [own(7), own(8), own(9)];
  const [east, south, places, perRoot] = [own(10), own(11), own(12), own(13)];
  const [across, up, side, rise] = [own(14), own(15), own(16), own(17)];
  const [first, second, index, spare, shear] = [own(18), own(19), own(20), own(21), own(22)];

  /** Marsaglia's xorshift of two words in each lane: the next 32 random bits are in `b`. */
  const draw: Code = [
    ...set(t, v128.xor(get(a), i32x4.shiftLeft(get(a), bits(10)))),
    ...set(a, get(b)),
    ...set(t, v128.xor(get(t), i32x4.shiftRight(get(t), bits(13)))),
    ...set(b, v128.xor(v128.xor(get(b), i32x4.shiftRight(get(b), bits(10))), get(t))),
  ];

  /** A lane of four addresses: two are taken out at once. */
  const address = (addresses: number, lane: number): Code => {
    const two = i64.lane(lane >> 1, get(addresses));
    return i64.wrap((lane & 1) === 0 ? two : i64.shiftRight(two, i64.const(32n)));
  };

  /** Four pairs of floats at the addresses in a vector: the first of each, and the second. */
  const readPairs = (addresses: number, offset: number, one: number, other: number): Code => {
    const two = (j: number): Code =>
      v128.load64High(address(addresses, j + 1), v128.load64Zero(address(addresses, j), offset), offset);
    return [
      ...set(first, two(0)),
      ...set(second, two(2)),
      ...set(one, i32x4.shuffle(EVEN, get(first), get(second))),
      ...set(other, i32x4.shuffle(ODD, get(first), get(second))),
    ];
  };

  /** Two normal numbers: a pair by 11 of the random bits, their signs by the two highest. */
  const sign = (code: Code): Code => v128.and(code, get(signBit));
  const readNormals: Code = [
    ...set(index, v128.and(i32x4.shiftLeft(get(b), bits(3)), get(pairs))),
    ...readPairs(index, AT.normals, side, rise),
    ...set(side, v128.xor(get(side), sign(get(b)))),
    ...set(rise, v128.xor(get(rise), sign(i32x4.shiftLeft(get(b), bits(1))))),
  ];

  /** East, south, places and one over the root of metres, of the cell each lane is in. */
  const cellOf = (lane: number): Code => v128.load(address(cell, lane));
  const readMoves: Code = [
    ...set(first, cellOf(0)),
    ...set(second, cellOf(1)),
    ...set(east, i32x4.shuffle([0, 4, 1, 5], get(first), get(second))),
    ...set(places, i32x4.shuffle([2, 6, 3, 7], get(first), get(second))),
    ...set(first, cellOf(2)),
    ...set(second, cellOf(3)),
    ...set(t, i32x4.shuffle([0, 4, 1, 5], get(first), get(second))),
    ...set(perRoot, i32x4.shuffle([2, 6, 3, 7], get(first), get(second))),
    ...set(south, i32x4.shuffle([2, 3, 6, 7], get(east), get(t))),
    ...set(east, i32x4.shuffle([0, 1, 4, 5], get(east), get(t))),
    ...set(t, i32x4.shuffle([0, 1, 4, 5], get(places), get(perRoot))),
    ...set(perRoot, i32x4.shuffle([2, 3, 6, 7], get(places), get(perRoot))),
    ...set(places, get(t)),
  ];

  const height = i32x4.min(i32x4.truncate(f32x4.add(get(z), get(z))), get(lastShear));
  const readShear: Code = sheared
    ? [...set(index, i32x4.shiftLeft(height, bits(3))), ...readPairs(index, AT.shear, shear, t)]
    : [];
  const carried = (part: number): Code => (sheared ? f32x4.mul(get(part), get(shear)) : get(part));

  const move: Code = [
    ...set(side, f32x4.mul(f32x4.mul(get(across), get(side)), get(perRoot))),
    ...set(x, f32x4.sub(f32x4.add(get(x), carried(east)), f32x4.mul(get(south), get(side)))),
    ...set(y, f32x4.add(f32x4.add(get(y), carried(south)), f32x4.mul(get(east), get(side)))),
    ...set(rise, f32x4.mul(f32x4.mul(get(up), get(rise)), f32x4.mul(get(places), get(perRoot)))),
    ...set(z, f32x4.abs(f32x4.add(get(z), get(rise)))),
    ...set(middle, f32x4.add(get(middle), carried(places))),
  ];

  const nextPlace = set(
    place,
    i32x4.shiftLeft(i32x4.min(i32x4.truncate(get(middle)), get(lastPlace)), bits(3)),
  );

  /** Beyond the edge lies a ring of cells in which nothing moves, wider than a step is long: none goes farther. */
  const nextCell: Code = [
    ...set(index, i32x4.add(i32x4.mul(i32x4.truncate(get(y)), get(stride)), i32x4.truncate(get(x)))),
    ...set(cell, i32x4.add(i32x4.shiftLeft(get(index), bits(4)), get(cellsAt))),
  ];

  const countVisits: Code = [
    ...set(word, i32x4.add(i32x4.shiftLeft(get(index), bits(3)), get(visitsAt))),
    ...set(word, i32x4.select(get(word), get(spare), f32x4.less(get(z), get(nose)))),
    ...[0, 1, 2, 3].flatMap((lane) => [
      ...set(target, address(word, lane)),
      ...i64.store(get(target), i64.add(i64.load(get(target)), get(visit))),
    ]),
  ];

  const at = VECTOR * which;
  return {
    generator: (then: (local: number, offset: number) => Code): Code =>
      [a, b].flatMap((local, k) => then(local, AT.random + 32 * which + 16 * k)),
    prepare: set(spare, i32x4.lanes([0, 1, 2, 3].map((lane) => AT.spare + 8 * (lane + 4 * which)))),
    release: [
      ...[x, y, z, cell, place, middle].flatMap((local, k) =>
        set(local, v128.load(get(groups), at + 16 * k)),
      ),
    ],
    walk: [
      ...draw,
      ...readNormals,
      ...readPairs(place, AT.spread, across, up),
      ...readMoves,
      ...readShear,
      ...move,
      ...nextPlace,
      ...nextCell,
      ...countVisits,
    ],
    places: get(places),
    rest: [x, y].flatMap((local, k) => v128.store(get(groups), get(local), at + 16 * k)),
  };
}

function programOf(fours: ReturnType<typeof fourOf>[]): Code {
  const walkOn: Code = [
    ...fours.flatMap(({ walk }) => walk),
    ...set(visit, i64.add(get(visit), i64.const(1n))),
  ];
  /** Not nought while a lane's particle is on the map: in the ring the length of a step is -0. */
  const onMap = i32.sub(
    i32.const(15),
    i32x4.signs(fours.map(({ places }) => places).reduce((some, more) => v128.and(some, more))),
  );

  return [
    ...fours.flatMap(({ generator }) =>
      generator((local, offset) => set(local, v128.load(i32.const(0), offset))),
    ),
    ...set(stride, i32x4.splat(get(width))),
    ...set(cellsAt, i32x4.splat(get(cells))),
    ...set(visitsAt, i32x4.splat(get(visits))),
    ...set(lastPlace, i32x4.splat(get(last))),
    ...set(nose, f32x4.splat(f32.const(NOSE))),
    ...set(pairs, whole(8 * 2047)),
    ...set(lastShear, whole(SHEAR_PLACES - 1)),
    ...set(signBit, whole(-0x8000_0000)),
    ...fours.flatMap(({ prepare }) => prepare),
    ...repeatWhile(
      get(count),
      fours.flatMap(({ release }) => release),
      set(step, i32.const(0)),
      set(visit, i64.const(1n << BigInt(VISIT_BIT))),
      // Two steps a turn, for what a turn itself costs.
      repeatWhile(
        select(onMap, i32.const(0), i32.less(get(step), get(steps))),
        walkOn,
        walkOn,
        set(step, i32.add(get(step), i32.const(2))),
      ),
      fours.flatMap(({ rest }) => rest),
      set(groups, i32.add(get(groups), i32.const(VECTOR * SIDE_BY_SIDE))),
      set(count, i32.sub(get(count), i32.const(1))),
    ),
    ...fours.flatMap(({ generator }) =>
      generator((local, offset) => v128.store(i32.const(0), get(local), offset)),
    ),
  ];
}

/** @param sheared see `fourOf` */
export const walkCode = (sheared: boolean): Uint8Array<ArrayBuffer> =>
  moduleOf(
    new Array<number>(7).fill(VALUE.i32),
    [
      VALUE.i32,
      VALUE.i32,
      VALUE.i64,
      ...new Array<number>(OWN - stride + OWN_COUNT * SIDE_BY_SIDE).fill(VALUE.v128),
    ],
    programOf(Array.from({ length: SIDE_BY_SIDE }, (_, which) => fourOf(which, sheared))),
  );
