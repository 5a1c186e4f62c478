/** The tape's worker as the page sees it: questions with answers, and what is heard. */
import type { BenchAnswer, JobName } from '../workers/bench.js';
import { startWorker } from '../workers/start.js';
import type { Heard, TapeJobs } from '../workers/tape.js';

/** A job cannot be done, for a reason that a person can mend. */
export class CannotBe extends Error {}

type Given<Job extends JobName> = Parameters<TapeJobs[Job]>[0];
type Value<Job extends JobName> = Awaited<ReturnType<TapeJobs[Job]>>;

interface Asked {
  resolve(value: unknown): void;
  reject(error: Error): void;
}

export class Tape {
  onHeard: (heard: Heard) => void = () => {};
  private worker: Promise<Worker> | undefined;
  private readonly asked = new Map<number, Asked>();
  private last = 0;

  async ask<Job extends JobName>(
    job: Job,
    given: Given<Job>,
    handed: Transferable[] = [],
  ): Promise<Value<Job>> {
    this.worker ??= this.start();
    const worker = await this.worker;
    const id = ++this.last;
    return new Promise<Value<Job>>((resolve, reject) => {
      this.asked.set(id, { resolve: resolve as Asked['resolve'], reject });
      worker.postMessage({ id, job, given }, handed);
    });
  }

  private async start(): Promise<Worker> {
    const worker = await startWorker('bench');
    worker.onmessage = ({ data }: MessageEvent<BenchAnswer | { heard: Heard }>) => {
      if ('heard' in data) this.onHeard(data.heard);
      else this.take(data);
    };
    worker.onerror = ({ message }) => {
      for (const { reject } of this.asked.values()) reject(new Error(message));
      this.asked.clear();
    };
    return worker;
  }

  private take(answer: BenchAnswer): void {
    const asked = this.asked.get(answer.id);
    this.asked.delete(answer.id);
    if ('impossible' in answer) asked?.reject(new CannotBe(answer.impossible));
    else asked?.resolve(answer.value);
  }
}
