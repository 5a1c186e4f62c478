/**
 * The Language Server Protocol over any connection: each request is one question of
 * src/editing/questions, put to the newest snapshot of a listing. No exception ends it: a question
 * that fails is answered with nothing, and told to the client's log.
 */
import {
  type CancellationToken,
  CodeLensRefreshRequest,
  type Connection,
  DidChangeConfigurationNotification,
  ErrorCodes,
  type InitializeParams,
  type InitializeResult,
  type Location,
  PositionEncodingKind,
  type Range,
  ResponseError,
  type TextDocumentPositionParams,
  TextDocumentSyncKind,
} from 'vscode-languageserver';
import type { Include } from '../../grammar/text.js';
import type { Encoding } from '../editing/positions.js';
import { budget, COMMANDS } from '../editing/questions/budget.js';
import { completion, TRIGGERS } from '../editing/questions/completion.js';
import { findings } from '../editing/questions/findings.js';
import { FIX_ALL, fixes, MAKE_FIT, resolveFix } from '../editing/questions/fixes.js';
import { folding, selectionRanges } from '../editing/questions/folding.js';
import { format, formatRange } from '../editing/questions/format.js';
import { hints } from '../editing/questions/hints.js';
import { hover } from '../editing/questions/hover.js';
import { definition, highlights, references } from '../editing/questions/navigation.js';
import { outline } from '../editing/questions/outline.js';
import { CannotRename, prepareRename, rename } from '../editing/questions/rename.js';
import { TOKEN_TYPES, tokens } from '../editing/questions/tokens.js';
import type { Snapshot } from '../editing/snapshot.js';
import { readRamSize } from '../machine/ram-size.js';
import type { CarryOut } from './commands.js';
import { OpenListing } from './open-listing.js';

/** What the surroundings of a server can do for it: files on a computer, or none in a browser. */
export interface Host {
  /** Carries out commands, for whoever offers them: they bring half of the library with them. */
  readonly carryOut?: CarryOut;
  /** How REMs of this listing read files. */
  include?(uri: string): Include | undefined;
  /** Keeps a result beside the listing; gives its path, or undefined where there is no such place. */
  keep?(uri: string, extension: string, bytes: Uint8Array): string | undefined;
  /** Keeps a picture where it is in nobody's way; gives its address. */
  keepPicture?(uri: string, title: string, svg: string): string;
  /** Is told what is known of a listing whenever its findings are sent. */
  known?(uri: string, version: number, snapshot: Snapshot): void;
  /** Address of the page of rules. */
  readonly rulesPage?: string;
  /** Version that the client is told. */
  readonly version?: string;
  /** RAM in bytes, where the editor's settings say nothing. */
  readonly ram?: number;
}

/** Milliseconds that typing must rest before findings are worked out. */
const REST = 10;

/** Milliseconds of rest after which a verdict that is open is settled by following the run. */
const LONG_REST = 300;

/** Lets a waiting message be read before the next step of the work. */
const breathe = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

/** Answers everything that comes over a connection, until it ends. */
export function serve(connection: Connection, host: Host = {}): void {
  new Server(connection, host).listen();
}

class Server {
  private readonly open = new Map<string, OpenListing>();
  private readonly timers = new Map<string, ReturnType<typeof setTimeout>>();
  private encoding: Encoding = 'utf-16';
  private ram: number | undefined;
  private asksSettings = false;
  private shows = false;
  private panels = false;
  private refreshesLenses = false;
  /** Does the client ask for the edits of an action once it is chosen? */
  private resolvesFixes = false;

  constructor(
    private readonly connection: Connection,
    private readonly host: Host,
  ) {}

  listen(): void {
    this.listenToLife();
    this.listenToText();
    this.listenToQuestions();
    this.connection.listen();
  }

  // ───────────────────────────── beginning, settings, end ─────────────────────────────

  private listenToLife(): void {
    const { connection } = this;
    connection.onInitialize((params) => this.initialize(params));
    connection.onInitialized(() => {
      if (this.asksSettings) {
        void connection.client.register(DidChangeConfigurationNotification.type, {
          section: 'listwright',
        });
      }
      void this.readSettings();
    });
    connection.onDidChangeConfiguration(({ settings }) => {
      if (this.asksSettings) void this.readSettings();
      else this.takeNewSettings((settings as { listwright?: unknown } | null)?.listwright);
    });
    connection.onShutdown(() => {
      for (const timer of this.timers.values()) clearTimeout(timer);
      this.timers.clear();
      this.open.clear();
    });
  }

  private initialize({ capabilities, initializationOptions }: InitializeParams): InitializeResult {
    const offered = capabilities.general?.positionEncodings ?? [];
    const { UTF8, UTF16 } = PositionEncodingKind;
    const isOnly = offered.includes(UTF8) && !offered.includes(UTF16);
    if (offered[0] === UTF8 || isOnly) this.encoding = 'utf-8';
    this.asksSettings = capabilities.workspace?.configuration === true;
    this.resolvesFixes =
      capabilities.textDocument?.codeAction?.resolveSupport?.properties.includes('edit') === true;
    this.refreshesLenses = capabilities.workspace?.codeLens?.refreshSupport === true;
    this.shows = capabilities.window?.showDocument?.support === true;
    this.panels = initializationOptions?.panels === true;
    this.takeSettings(initializationOptions);
    return {
      serverInfo: { name: 'listwright', version: this.host.version },
      capabilities: {
        positionEncoding: this.encoding,
        textDocumentSync: {
          openClose: true,
          change: TextDocumentSyncKind.Incremental,
          save: false,
        },
        hoverProvider: true,
        completionProvider: { triggerCharacters: TRIGGERS },
        definitionProvider: true,
        referencesProvider: true,
        documentHighlightProvider: true,
        documentSymbolProvider: true,
        foldingRangeProvider: true,
        selectionRangeProvider: true,
        renameProvider: { prepareProvider: true },
        codeActionProvider: {
          codeActionKinds: ['quickfix', FIX_ALL, MAKE_FIT],
          resolveProvider: this.resolvesFixes,
        },
        codeLensProvider: {},
        inlayHintProvider: true,
        documentFormattingProvider: true,
        documentRangeFormattingProvider: true,
        semanticTokensProvider: {
          legend: { tokenTypes: [...TOKEN_TYPES], tokenModifiers: [] },
          full: true,
          range: true,
        },
        executeCommandProvider: {
          commands: this.host.carryOut === undefined ? [] : Object.values(COMMANDS),
        },
      },
    };
  }

  private async readSettings(): Promise<void> {
    if (!this.asksSettings) return;
    try {
      this.takeNewSettings(await this.connection.workspace.getConfiguration('listwright'));
    } catch (error) {
      this.tellFault('settings', error);
    }
  }

  private takeNewSettings(settings: unknown): void {
    this.takeSettings(settings);
    for (const uri of this.open.keys()) this.lookLater(uri);
  }

  private takeSettings(settings: unknown): void {
    const ram = (settings as { ram?: unknown } | null | undefined)?.ram;
    const unset = ram === undefined || ram === null || ram === '';
    const size = unset ? this.host.ram : readRamSize(String(ram));
    if (typeof size !== 'string') this.setRam(size);
    else this.connection.console.warn(`listwright.ram: ${size}`);
  }

  private setRam(ram: number | undefined): void {
    if (ram === this.ram) return;
    this.ram = ram;
    for (const listing of this.open.values()) listing.setRam(ram);
  }

  // ───────────────────────────── text and findings ─────────────────────────────

  private listenToText(): void {
    const { connection, open } = this;
    connection.onDidOpenTextDocument(({ textDocument: { uri, text, version } }) => {
      const options = { encoding: this.encoding, include: this.host.include?.(uri), ram: this.ram };
      open.set(uri, new OpenListing(text, version, options));
      this.lookLater(uri);
    });
    connection.onDidChangeTextDocument(({ textDocument: { uri, version }, contentChanges }) => {
      open.get(uri)?.change(contentChanges, version);
      this.lookLater(uri);
    });
    connection.onDidCloseTextDocument(({ textDocument: { uri } }) => {
      clearTimeout(this.timers.get(uri));
      this.timers.delete(uri);
      open.delete(uri);
      void connection.sendDiagnostics({ uri, diagnostics: [] });
    });
  }

  private lookLater(uri: string): void {
    clearTimeout(this.timers.get(uri));
    this.timers.set(
      uri,
      setTimeout(() => void this.look(uri), REST),
    );
  }

  /**
   * Works the findings out in steps, and gives up when the text has changed in between. Where the
   * verdict is open, what settles it follows once typing has rested for longer.
   */
  private async look(uri: string): Promise<void> {
    const listing = this.open.get(uri);
    if (listing === undefined) return;
    const { version } = listing;
    const isOld = (): boolean => this.open.get(uri) !== listing || listing.version !== version;
    try {
      const snapshot = listing.snapshot;
      if (!snapshot.broken) {
        await breathe();
        if (isOld()) return;
        snapshot.lintByNow;
        await breathe();
        if (isOld()) return;
      }
      await this.tellFindings(uri, version, snapshot);
      if (snapshot.broken || snapshot.isSettled) return;
      await new Promise((resolve) => setTimeout(resolve, LONG_REST));
      if (isOld() || listing.snapshot !== snapshot) return;
      snapshot.lint;
      await this.tellFindings(uri, version, snapshot);
      if (this.refreshesLenses) await this.connection.sendRequest(CodeLensRefreshRequest.type);
    } catch (error) {
      this.tellFault('findings', error);
    }
  }

  private tellFindings(uri: string, version: number, snapshot: Snapshot): Promise<void> {
    this.host.known?.(uri, version, snapshot);
    const diagnostics = findings(snapshot, { rulesPage: this.host.rulesPage });
    return this.connection.sendDiagnostics({ uri, version, diagnostics });
  }

  // ───────────────────────────── questions ─────────────────────────────

  private listenToQuestions(): void {
    const { connection } = this;
    const about = <P extends TextDocumentPositionParams, R>(
      name: string,
      question: (snapshot: Snapshot, offset: number, params: P) => R,
      nothing: R,
    ) =>
      this.asked<P, R>(name, (s, p) => question(s, s.positions.offsetAt(p.position), p), nothing);
    const located = ({ textDocument: { uri } }: TextDocumentPositionParams, ranges: Range[]) =>
      ranges.map((range): Location => ({ uri, range }));
    connection.onHover(about('hover', (s, at) => hover(s, at) ?? null, null));
    connection.onCompletion(about('completion', completion, []));
    connection.onDefinition(about('definition', (s, at, p) => located(p, definition(s, at)), []));
    connection.onReferences(
      about(
        'references',
        (s, at, p) => located(p, references(s, at, p.context.includeDeclaration)),
        [],
      ),
    );
    connection.onDocumentHighlight(about('highlights', highlights, []));
    connection.onDocumentSymbol(this.asked('outline', outline, []));
    connection.onFoldingRanges(this.asked('folding', folding, []));
    connection.onSelectionRanges(
      this.asked('selection', (s, p) => selectionRanges(s, p.positions), []),
    );
    connection.onPrepareRename(about('rename', (s, at) => prepareRename(s, at) ?? null, null));
    connection.onRenameRequest(
      about('rename', (s, at, p) => rename(s, p.textDocument.uri, at, p.newName) ?? null, null),
    );
    connection.onCodeAction(
      this.asked(
        'fixes',
        (s, p) => {
          const found = fixes(s, p.textDocument.uri, p.range, p.context.only);
          if (this.resolvesFixes) return found;
          return found.flatMap((action) =>
            action.edit ? [action] : (resolveFix(s, action) ?? []),
          );
        },
        [],
      ),
    );
    connection.onCodeActionResolve((action, token) => {
      const uri = (action.data as { uri?: string } | undefined)?.uri ?? '';
      const resolved = this.asked('fixes', (s) => resolveFix(s, action) ?? action, action);
      return resolved({ textDocument: { uri } }, token);
    });
    connection.onCodeLens(this.asked('budget', (s, p) => budget(s, p.textDocument.uri), []));
    connection.languages.inlayHint.on(this.asked('hints', (s, p) => hints(s, p.range), []));
    connection.onDocumentFormatting(this.asked('format', format, []));
    connection.onDocumentRangeFormatting(
      this.asked('format', (s, p) => formatRange(s, p.range), []),
    );
    connection.languages.semanticTokens.on(this.asked('tokens', (s) => tokens(s), { data: [] }));
    connection.languages.semanticTokens.onRange(
      this.asked('tokens', (s, p) => tokens(s, p.range), { data: [] }),
    );
    connection.onExecuteCommand(async ({ command, arguments: words = [] }) => {
      const [uri] = words as string[];
      const listing = this.open.get(uri);
      if (listing === undefined) return null;
      try {
        const outcome = await this.host.carryOut?.(command, uri, listing.snapshot, {
          connection: this.connection,
          host: this.host,
          shows: this.shows,
          panels: this.panels,
        });
        return outcome ?? null;
      } catch (error) {
        this.tellFault(command, error);
        return null;
      }
    });
  }

  /** A question as the connection asks it: of the newest snapshot, and never with an exception. */
  private asked<P extends { readonly textDocument: { readonly uri: string } }, R>(
    name: string,
    question: (snapshot: Snapshot, params: P) => R,
    nothing: R,
  ): (params: P, token: CancellationToken) => R | ResponseError<void> {
    return (params, token) => {
      const listing = this.open.get(params.textDocument.uri);
      if (listing === undefined || token.isCancellationRequested) return nothing;
      try {
        return question(listing.snapshot, params);
      } catch (error) {
        if (error instanceof CannotRename) {
          return new ResponseError(ErrorCodes.InvalidRequest, error.message);
        }
        this.tellFault(name, error);
        return nothing;
      }
    };
  }

  private tellFault(what: string, error: unknown): void {
    const words = error instanceof Error ? (error.stack ?? error.message) : String(error);
    this.connection.console.error(`a fault of listwright itself, in ${what}: ${words}`);
  }
}
