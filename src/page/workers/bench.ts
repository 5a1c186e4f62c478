/** The second worker of the page, started when it is first needed: the machine, or the tape's jobs. */
import { LiveMachine, type MachineOrder } from './machine.js';
import { Impossible, TapeJobs } from './tape.js';

export type JobName = Exclude<keyof TapeJobs, 'tell'>;

/** What the page sends: an order for the machine, or a question with a number. */
export type BenchRequest =
  | { readonly machine: MachineOrder }
  | { readonly id: number; readonly job: JobName; readonly given: unknown };

/** What comes back to a question. */
export type BenchAnswer =
  | { readonly id: number; readonly value: unknown }
  /** Why it cannot be, in words for a person. */
  | { readonly id: number; readonly impossible: string };

const post = (message: unknown): void => (self as unknown as Worker).postMessage(message);
const machine = new LiveMachine((view) => post({ view }));
const jobs = new TapeJobs((heard) => post({ heard }));

self.onmessage = ({ data }: MessageEvent<BenchRequest>) => {
  if ('machine' in data) machine.take(data.machine);
  else void answer(data).then(post);
};

// What goes wrong on this side is the page's to tell: there is one place for that.
self.onunhandledrejection = ({ reason }) => {
  throw reason;
};

async function answer({
  id,
  job,
  given,
}: Extract<BenchRequest, { job: unknown }>): Promise<BenchAnswer> {
  try {
    return { id, value: await (jobs[job] as (given: unknown) => unknown).call(jobs, given) };
  } catch (error) {
    if (error instanceof Impossible) return { id, impossible: error.message };
    throw error;
  }
}
