/**
 * Work counted instead of timed: how often each piece of code between two branches is run. It is the
 * same in each run, whatever else the machine does and however much of its memory is near. What is
 * not counted is the work within what the language itself gives, as in looking for a text.
 */
import { type Profiler, Session } from 'node:inspector';

type Taken = Profiler.TakePreciseCoverageReturnType;

/** Counts from now on; to be called before what is counted is loaded. Gives what says how much was done. */
export async function countWork(): Promise<() => Promise<number>> {
  const session = new Session();
  session.connect();
  const ask = (method: string, params?: object): Promise<unknown> =>
    new Promise((resolve, reject) => {
      session.post(method, params, (error, answer) => (error ? reject(error) : resolve(answer)));
    });
  await ask('Profiler.enable');
  await ask('Profiler.startPreciseCoverage', { callCount: true, detailed: true });
  return async () => {
    const { result } = (await ask('Profiler.takePreciseCoverage')) as Taken;
    let work = 0;
    for (const { functions } of result) {
      for (const { ranges } of functions) for (const { count } of ranges) work += count;
    }
    return work;
  };
}
