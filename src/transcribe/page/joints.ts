/**
 * Marks in a joined line where two rows met: with no space between them, or with one, likely. Both
 * are noncharacters, which Unicode keeps for a program's own use.
 */
import type { Mapped } from './mapped.js';

export const JOINT_CLOSED = '\uFDD0';
export const JOINT_OPEN = '\uFDD1';

/** A joined text without the marks of its joints. */
export function bare(text: string): string {
  return text.replaceAll(JOINT_CLOSED, '').replaceAll(JOINT_OPEN, ' ');
}

export function withoutJoints(body: Mapped): Mapped {
  return body.edited(
    [...body.text.matchAll(/[\uFDD0\uFDD1]/g)].map(({ 0: joint, index }) => ({
      start: index,
      end: index + 1,
      text: bare(joint),
    })),
  );
}
