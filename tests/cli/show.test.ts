import fc from 'fast-check';
import { expect, it } from 'vitest';
import { jsonOf, piecesOfJson } from '../../src/cli/common/show.js';

it('JSON in pieces is the JSON of the whole', () => {
  fc.assert(
    fc.property(fc.jsonValue(), fc.array(fc.jsonValue(), { maxLength: 5 }), (value, items) => {
      const whole = { bytes: [1, 2], empty: {}, value, items, last: [] };
      const inParts = {
        ...whole,
        bytes: Uint8Array.of(1, 2),
        items: new Set(items.map((item) => [item])),
        left: undefined,
      };
      expect([...piecesOfJson(inParts)].join('')).toBe(
        jsonOf({ ...whole, items: items.map((item) => [item]) }),
      );
    }),
    { numRuns: process.env.FUZZ ? 20_000 : 200, seed: 1 },
  );
});
