/** The manual, chapter 28, from memory. */
import { expect, it } from 'vitest';
import { PROGRAM_START, RAM_START } from '../../src/machine/memory-map.js';
import { addressOf, SYSTEM_VARIABLES, systemVariable } from '../../src/machine/system-variables.js';

it('the system variables follow one another from the start of the RAM up to the program', () => {
  let next = RAM_START;
  for (const { address, size } of SYSTEM_VARIABLES) {
    expect(address).toBe(next);
    next += size;
  }
  expect(next).toBe(PROGRAM_START);
});

it('each has a name of its own, by which it is found', () => {
  for (const variable of SYSTEM_VARIABLES) {
    expect(variable.name).toMatch(/^[A-Z][A-Z_0-9]+$/);
    expect(systemVariable(variable.name)).toBe(variable);
    expect(addressOf(variable.name)).toBe(variable.address);
  }
  expect(systemVariable('D-FILE')).toBeUndefined();
  expect(() => addressOf('D-FILE')).toThrow(new RangeError('no system variable is called D-FILE'));
});
