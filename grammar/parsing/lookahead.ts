/**
 * What the parser looks ahead for: one token makes every choice of the grammar. Chevrotain works out
 * paths of any length, which takes so much longer that each start of a command would feel it.
 */
import {
  Alternation,
  type ILookaheadStrategy,
  type IProduction,
  LLkLookaheadStrategy,
  NonTerminal,
  Option,
  Repetition,
  RepetitionMandatory,
  RepetitionMandatoryWithSeparator,
  RepetitionWithSeparator,
  type Rule,
  Terminal,
  type TokenType,
} from 'chevrotain';
import { type ListingToken, tableOf } from '../tokens.js';

type Strategy = ILookaheadStrategy;
/** The parser, on which what is built here is called. */
type Parser = { LA_FAST(ahead: number): ListingToken };

/** What may be left out or stands again and again, by what Chevrotain calls it. */
const OPTIONAL = {
  Option,
  Repetition,
  RepetitionMandatory,
  RepetitionMandatoryWithSeparator,
  RepetitionWithSeparator,
};

/** The grammar's own strategy: each choice is worked out when the parser first comes to it. */
export class OneTokenLookahead extends LLkLookaheadStrategy {
  override buildLookaheadForAlternation: Strategy['buildLookaheadForAlternation'] = (options) =>
    whenNeeded(() => {
      const { definition } = productionOf(options.rule, Alternation, options.prodOccurrence);
      const begins = definition.map((alternative) => firstOf(alternative));
      const choices = tableOf(...begins.flat());
      // The first that can begin with a token is taken: it is numbered from 1 on here, 0 is none.
      for (let at = begins.length - 1; at >= 0; at--) {
        for (const { tokenTypeIdx } of begins[at]) choices[tokenTypeIdx!] = at + 1;
      }
      return function (this: Parser) {
        const choice = choices[this.LA_FAST(1).tokenTypeIdx];
        return choice > 0 ? choice - 1 : undefined;
      };
    });

  override buildLookaheadForOptional: Strategy['buildLookaheadForOptional'] = (options) =>
    whenNeeded(() => {
      const kind = OPTIONAL[options.prodType];
      const begins = tableOf(...firstOf(productionOf(options.rule, kind, options.prodOccurrence)));
      return function (this: Parser) {
        return begins[this.LA_FAST(1).tokenTypeIdx] === 1;
      };
    });
}

/** A lookahead function that is built by its first call. */
function whenNeeded<Result>(build: () => (this: Parser) => Result): () => Result {
  let built: ((this: Parser) => Result) | undefined;
  return function (this: Parser) {
    built ??= build();
    return built.call(this);
  } as () => Result;
}

/** A part of a rule that holds others. */
type Holder = IProduction & { readonly idx: number; readonly definition: IProduction[] };
type Kind = abstract new (...options: never[]) => Holder;

/** The production of this kind in a rule that Chevrotain gave this number. */
function productionOf(rule: Rule, kind: Kind, occurrence: number): Holder {
  const find = (parts: readonly IProduction[]): Holder | undefined => {
    for (const part of parts) {
      if (part instanceof kind && part.idx === occurrence) return part;
      if (part instanceof Terminal || part instanceof NonTerminal) continue;
      const found = find((part as Holder).definition);
      if (found !== undefined) return found;
    }
    return undefined;
  };
  return find(rule.definition)!;
}

/** The tokens that a production can begin with. */
function firstOf(production: IProduction): TokenType[] {
  const found: TokenType[] = [];
  /** Goes through what can come first; gives true where that may be nothing, so that more can. */
  const note = (part: IProduction): boolean => {
    if (part instanceof Terminal) {
      found.push(part.terminalType);
      return false;
    }
    // Of a rule's name this is the rule.
    const { definition } = part as Holder;
    if (part instanceof Alternation) return definition.filter(note).length > 0;
    return definition.every(note) || MAY_BE_NOTHING.some((kind) => part instanceof kind);
  };
  note(production);
  return found;
}

const MAY_BE_NOTHING = [Option, Repetition, RepetitionWithSeparator];
