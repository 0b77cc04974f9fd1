/**
 * The few instructions of WebAssembly (W3C Core Specification 3.0, with its 128-bit vectors) that the hot loops of air
 * and travel are written in. Each takes the code of its operands and gives code: bytes, operands first, as the stack
 * machine reads them. Vectors are four lanes of 32 bits.
 */
export type Code = readonly (number | Code)[];

/** LEB128 of a whole number from 0. */
function unsigned(value: number): number[] {
  const low = value % 128;
  return value < 128 ? [low] : [low | 0x80, ...unsigned(Math.floor(value / 128))];
}

/** LEB128 of a whole number of either sign. */
function signed(value: bigint): number[] {
  const low = Number(value & 0x7fn);
  const rest = value >> 7n;
  const last = (rest === 0n && low < 64) || (rest === -1n && low >= 64);
  return last ? [low] : [low | 0x80, ...signed(rest)];
}

type Operation = (...operands: Code[]) => Code;
const scalar =
  (opcode: number): Operation =>
  (...operands) => [...operands, opcode];
const vector =
  (opcode: number): Operation =>
  (...operands) => [...operands, 0xfd, ...unsigned(opcode)];
/** Alignment is a hint; none is promised. */
const place = (offset: number): number[] => [0, ...unsigned(offset)];

export const VALUE = { i32: 0x7f, i64: 0x7e, f32: 0x7d, f64: 0x7c, v128: 0x7b } as const;

export const get = (local: number): Code => [0x20, ...unsigned(local)];
export const set = (local: number, value: Code): Code => [...value, 0x21, ...unsigned(local)];
/** Runs its code, then again while the condition is not 0. */
export const repeatWhile = (condition: Code, ...code: Code[]): Code => [
  0x03,
  0x40,
  ...code,
  ...condition,
  0x0d,
  0,
  0x0b,
];

/** Runs its code where the condition is not 0, else the other. */
export const when = (condition: Code, code: Code, otherwise: Code = []): Code => [
  ...condition,
  0x04,
  0x40,
  ...code,
  ...(otherwise.length > 0 ? [0x05, ...otherwise] : []),
  0x0b,
];
/** The first where the condition is not 0, else the second. */
export const select = scalar(0x1b);

export const i32 = {
  const: (value: number): Code => [0x41, ...signed(BigInt(value))],
  add: scalar(0x6a),
  sub: scalar(0x6b),
  mul: scalar(0x6c),
  and: scalar(0x71),
  or: scalar(0x72),
  shiftLeft: scalar(0x74),
  shiftRight: scalar(0x76),
  isZero: scalar(0x45),
  less: scalar(0x48),
  lessUnsigned: scalar(0x49),
  load: (address: Code, offset = 0): Code => [...address, 0x28, ...place(offset)],
  loadByte: (address: Code): Code => [...address, 0x2d, ...place(0)],
  store: (address: Code, value: Code, offset = 0): Code => [...address, ...value, 0x36, ...place(offset)],
  storeByte: (address: Code, value: Code): Code => [...address, ...value, 0x3a, ...place(0)],
};

export const i64 = {
  const: (value: bigint): Code => [0x42, ...signed(value)],
  add: scalar(0x7c),
  /** Nought comes in from the left. */
  shiftRight: scalar(0x88),
  /** Of a float of 64 bits, towards 0; the nearest there is of those beyond, and 0 of NaN. */
  truncate: (value: Code): Code => [...value, 0xfc, 6],
  /** The lower 32 bits. */
  wrap: scalar(0xa7),
  /** Half 0 or 1 of a vector. */
  lane: (half: number, value: Code): Code => [...value, 0xfd, 0x1d, half],
  load: (address: Code): Code => [...address, 0x29, ...place(0)],
  store: (address: Code, value: Code): Code => [...address, ...value, 0x37, ...place(0)],
};

export const f32 = {
  const: (value: number): Code => [0x43, ...new Uint8Array(Float32Array.of(value).buffer)],
  load: (address: Code): Code => [...address, 0x2a, ...place(0)],
};

export const f64 = {
  const: (value: number): Code => [0x44, ...new Uint8Array(Float64Array.of(value).buffer)],
  load: (address: Code, offset = 0): Code => [...address, 0x2b, ...place(offset)],
  store: (address: Code, value: Code): Code => [...address, ...value, 0x39, ...place(0)],
  less: scalar(0x63),
  abs: scalar(0x99),
  add: scalar(0xa0),
  sub: scalar(0xa1),
  /** NaN where one is. */
  most: scalar(0xa5),
  mul: scalar(0xa2),
  /** Of a float of 32 bits. */
  promote: scalar(0xbb),
};

export const v128 = {
  load: (address: Code, offset = 0): Code => [...address, 0xfd, 0x00, ...place(offset)],
  store: (address: Code, value: Code, offset = 0): Code => [
    ...address,
    ...value,
    0xfd,
    0x0b,
    ...place(offset),
  ],
  /** 64 bits into the first half, nought into the other; and into the second half of a vector. */
  load64Zero: (address: Code, offset: number): Code => [...address, 0xfd, 0x5d, ...place(offset)],
  load64High: (address: Code, into: Code, offset: number): Code => [
    ...address,
    ...into,
    0xfd,
    0x57,
    ...place(offset),
    1,
  ],
  and: vector(0x4e),
  xor: vector(0x51),
};

export const i32x4 = {
  splat: vector(0x11),
  lanes: (values: readonly number[]): Code => [0xfd, 0x0c, ...new Uint8Array(Int32Array.from(values).buffer)],
  /** The highest bit of each lane. */
  signs: vector(0xa4),
  shiftLeft: vector(0xab),
  shiftRight: vector(0xad),
  add: vector(0xae),
  mul: vector(0xb5),
  min: vector(0xb6),
  /** Of a vector of floats, towards 0; what becomes of those beyond 32 bits is left to the machine. */
  truncate: vector(0x101),
  /** Lanes of the first where the mask's are -1, of the second where they are 0. */
  select: vector(0x10b),
  /** Lanes 0..3 of the first and 4..7 of the second. */
  shuffle: (lanes: readonly number[], a: Code, b: Code): Code => [
    ...a,
    ...b,
    0xfd,
    0x0d,
    ...lanes.flatMap((lane) => [4 * lane, 4 * lane + 1, 4 * lane + 2, 4 * lane + 3]),
  ],
};

export const f32x4 = {
  splat: vector(0x13),
  less: vector(0x43),
  abs: vector(0xe0),
  add: vector(0xe4),
  sub: vector(0xe5),
  mul: vector(0xe6),
};

const flat = (code: Code): number[] => code.flatMap((part) => (typeof part === 'number' ? part : flat(part)));

/**
 * A module that imports the memory `env.memory` and exports one function, `run`, that gives nothing back.
 *
 * @param parameters value types
 * @param locals value types of what is declared beyond them
 */
export function moduleOf(
  parameters: readonly number[],
  locals: readonly number[],
  code: Code,
): Uint8Array<ArrayBuffer> {
  const list = (items: readonly (readonly number[])[]): number[] => [
    ...unsigned(items.length),
    ...items.flat(),
  ];
  const sized = (content: readonly number[]): number[] => [...unsigned(content.length), ...content];
  const section = (id: number, items: readonly (readonly number[])[]): number[] => [
    id,
    ...sized(list(items)),
  ];
  const named = (text: string): number[] => list([...text].map((letter) => [letter.charCodeAt(0)]));
  return Uint8Array.from([
    ...[0x00, 0x61, 0x73, 0x6d, 1, 0, 0, 0],
    ...section(1, [[0x60, ...list(parameters.map((type) => [type])), 0]]),
    ...section(2, [[...named('env'), ...named('memory'), 2, 0, 1]]),
    ...section(3, [[0]]),
    ...section(7, [[...named('run'), 0, 0]]),
    ...section(10, [sized([...list(locals.map((type) => [1, type])), ...flat(code), 0x0b])]),
  ]);
}
