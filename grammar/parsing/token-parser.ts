/**
 * Chevrotain's parser as the grammar's rules take it: of the listing's own tokens, one looked at
 * ahead, and with errors that cost little.
 */
import {
  EmbeddedActionsParser,
  type IParserErrorMessageProvider,
  NoViableAltException,
  type TokenType,
  tokenLabel,
} from 'chevrotain';
import { type ListingToken, PARSER_TOKENS } from '../tokens.js';
import { OneTokenLookahead } from './lookahead.js';

/** What may be missing, in words: the message of Chevrotain's exceptions is what belongs there. */
const WANTED: IParserErrorMessageProvider = {
  buildMismatchTokenMessage: ({ expected }) => tokenLabel(expected),
  buildNoViableAltMessage: () => 'unused: see raiseNoAltException',
  buildEarlyExitMessage: ({ customUserDescription }) => customUserDescription ?? 'a value',
  buildNotAllInputParsedMessage: () => 'the end',
};

export class TokenParser extends EmbeddedActionsParser {
  private layOut: () => unknown = () => {};

  constructor(validate: boolean) {
    super(PARSER_TOKENS, {
      maxLookahead: 1,
      skipValidations: !validate,
      recoveryEnabled: false,
      errorMessageProvider: WANTED,
      lookaheadStrategy: new OneTokenLookahead({ maxLookahead: 1 }),
    });
  }

  /**
   * What Chevrotain runs each step of its self-analysis through. Its first step has the engine lay
   * the parser out anew for speed, and with that anew for each of the methods that the recording of
   * the rules sets and takes away: here it comes last.
   */
  protected TRACE_INIT<Result>(step: string, work: () => Result): Result | undefined {
    if (step === 'toFastProps') {
      this.layOut = work;
      return undefined;
    }
    const result = work();
    if (step === 'performSelfAnalysis') this.layOut();
    return result;
  }

  protected override CONSUME(type: TokenType): ListingToken {
    return super.CONSUME(type) as ListingToken;
  }

  protected override CONSUME2(type: TokenType): ListingToken {
    return super.CONSUME2(type) as ListingToken;
  }

  /**
   * Where no alternative fits. Chevrotain's own works out all that may stand there, for a message
   * that `WANTED` makes without.
   */
  protected raiseNoAltException(_occurrence: number, wanted: string | undefined): never {
    const error = new NoViableAltException(wanted ?? 'a value', this.LA(1), this.LA(0));
    throw (this as unknown as { SAVE_ERROR(error: Error): Error }).SAVE_ERROR(error);
  }
}
