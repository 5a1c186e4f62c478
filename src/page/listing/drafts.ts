/** Drafts: listings that the browser's own storage keeps, each under a key of its own. */
import { TEXTS } from '../texts.js';

export interface Draft {
  readonly id: string;
  readonly text: string;
  /** When it was changed last, in milliseconds. */
  readonly changed: number;
  /** When what it was changed from was changed: another window may have another successor to that. */
  readonly after?: number;
}

const PREFIX = 'listwright.draft.';
const CURRENT = 'listwright.current';

/** Drafts that the browser did not take: they live as long as the page. */
const unkept = new Map<string, Draft>();

/** All drafts, the newest change first. */
export function allDrafts(): Draft[] {
  const drafts: Draft[] = [...unkept.values()];
  withStorage((storage) => {
    for (let at = 0; at < storage.length; at++) {
      const key = storage.key(at)!;
      const draft = key.startsWith(PREFIX) ? draftOf(key, storage.getItem(key)) : undefined;
      if (draft !== undefined && !unkept.has(draft.id)) drafts.push(draft);
    }
  });
  return drafts.sort((a, b) => b.changed - a.changed);
}

/** What is kept under a key of ours; undefined where it was not written by this page: it is left where it is. */
function draftOf(key: string, value: string | null): Draft | undefined {
  try {
    const { text, changed, after } = JSON.parse(value ?? '');
    if (typeof text !== 'string') return undefined;
    return { id: key.slice(PREFIX.length), text, changed: Number(changed) || 0, after };
  } catch {
    return undefined;
  }
}

/** Keeps a draft. Gives false where the browser does not keep it: then this page alone has it. */
export function keepDraft(draft: Draft): boolean {
  const { id, ...rest } = draft;
  unkept.delete(id);
  if (withStorage((storage) => storage.setItem(PREFIX + id, JSON.stringify(rest)))) return true;
  unkept.set(id, draft);
  return false;
}

/** Would something be lost with this page? */
export function isSomethingUnkept(): boolean {
  return [...unkept.values()].some(({ text }) => text.trim() !== '');
}

export function deleteDraft(id: string): void {
  unkept.delete(id);
  withStorage((storage) => storage.removeItem(PREFIX + id));
}

export function newDraft(text: string): Draft {
  return { id: crypto.randomUUID?.() ?? String(Math.random()).slice(2), text, changed: Date.now() };
}

/** The draft that this window had open last. */
export function currentId(): string | undefined {
  let id: string | null = null;
  withStorage((storage) => {
    id = sessionStorage.getItem(CURRENT) ?? storage.getItem(CURRENT);
  });
  return id ?? undefined;
}

export function setCurrent(id: string): void {
  withStorage((storage) => {
    storage.setItem(CURRENT, id);
    sessionStorage.setItem(CURRENT, id);
  });
}

/** Calls back when another window of the page has changed a draft, or deleted one. */
export function onForeignChange(changed: (draft: Draft | undefined) => void): void {
  addEventListener('storage', ({ key, newValue }) => {
    if (key?.startsWith(PREFIX)) changed(draftOf(key, newValue));
  });
}

/** What a draft is called: its `.name`, else its first comment or line. */
export function titleOf(text: string): string {
  const name = /^[ \t]*\.name[ \t]+"([^"\n]+)"/im.exec(text)?.[1];
  const first = /\S.*/.exec(text)?.[0].replace(/^'\s*/, '');
  return name ?? first?.slice(0, 32) ?? TEXTS.listing.untitled;
}

/** Does something with the storage; false where there is none, or it is full. */
function withStorage(act: (storage: Storage) => void): boolean {
  try {
    act(localStorage);
    return true;
  } catch {
    return false;
  }
}
