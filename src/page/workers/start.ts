/**
 * Starts the page's workers. Served pages start them by their address. From a file system browsers
 * give no worker and no module: there the worker's text comes as a script, and is started as a blob.
 */
import { isFromFiles } from './address.js';

export type WorkerName = 'language' | 'bench';

declare global {
  /** Texts of the workers, as the scripts NAME-text.js leave them. */
  var workerTexts: Partial<Record<WorkerName, string>> | undefined;
  /** The language server, where it was started early. */
  var earlyLanguage: Worker | undefined;
}

export async function startWorker(name: WorkerName): Promise<Worker> {
  if (!isFromFiles) {
    const early = name === 'language' ? globalThis.earlyLanguage : undefined;
    return early ?? new Worker(`${name}.js`);
  }
  await loadScript(`${name}-text.js`);
  const text = globalThis.workerTexts?.[name] ?? '';
  return new Worker(URL.createObjectURL(new Blob([text], { type: 'text/javascript' })));
}

const loaded = new Map<string, Promise<void>>();

function loadScript(address: string): Promise<void> {
  let promise = loaded.get(address);
  if (promise === undefined) {
    promise = new Promise((resolve, reject) => {
      const script = document.createElement('script');
      script.src = address;
      script.onload = () => resolve();
      script.onerror = () => reject(new Error(`${address} cannot be loaded`));
      document.head.append(script);
    });
    loaded.set(address, promise);
  }
  return promise;
}
