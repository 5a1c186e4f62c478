import {
  EOF,
  GAstVisitor,
  type ILookaheadStrategy,
  LLkLookaheadStrategy,
  type OptionalProductionType,
} from 'chevrotain';
import { expect, it } from 'vitest';
import { StatementParser } from '../../../grammar/parser.js';
import { OneTokenLookahead } from '../../../grammar/parsing/lookahead.js';
import { PARSER_TOKENS } from '../../../grammar/tokens.js';

type Numbered = { readonly idx: number };

/** Where the grammar has a choice: the kind of production, and its number in its rule. */
class Choices extends GAstVisitor {
  readonly found: [kind: OptionalProductionType | 'Alternation', occurrence: number][] = [];
  private readonly note =
    (kind: OptionalProductionType | 'Alternation') =>
    ({ idx }: Numbered): void => {
      this.found.push([kind, idx]);
    };
  visitAlternation = this.note('Alternation');
  visitOption = this.note('Option');
  visitRepetition = this.note('Repetition');
  visitRepetitionMandatory = this.note('RepetitionMandatory');
  visitRepetitionMandatoryWithSeparator = this.note('RepetitionMandatoryWithSeparator');
  visitRepetitionWithSeparator = this.note('RepetitionWithSeparator');
  visitNonTerminal(): void {}
  visitAlternative(): void {}
  visitTerminal(): void {}
  visitRule(): void {}
}

it("chooses by each token as Chevrotain's own lookahead does", () => {
  const strategies: ILookaheadStrategy[] = [
    new LLkLookaheadStrategy({ maxLookahead: 1 }),
    new OneTokenLookahead({ maxLookahead: 1 }),
  ];
  const chosen = new Set<unknown>();
  for (const rule of Object.values(new StatementParser().getGAstProductions())) {
    const choices = new Choices();
    rule.accept(choices);
    for (const [kind, prodOccurrence] of choices.found) {
      const options = { rule, prodOccurrence, maxLookahead: 1, dynamicTokensEnabled: false };
      const [theirs, ours] = strategies.map((strategy): (() => unknown) =>
        kind === 'Alternation'
          ? strategy.buildLookaheadForAlternation({ ...options, hasPredicates: false })
          : strategy.buildLookaheadForOptional({ ...options, prodType: kind }),
      );
      for (const token of [...PARSER_TOKENS, EOF]) {
        const parser = { LA_FAST: () => token };
        const wanted = theirs.call(parser);
        expect([token.name, ours.call(parser)], `${rule.name}, ${kind}`).toEqual([
          token.name,
          wanted,
        ]);
        chosen.add(`${kind} ${wanted}`);
      }
    }
  }
  for (const choice of ['Alternation 0', 'Alternation undefined', 'Option true', 'Option false']) {
    expect(chosen).toContain(choice);
  }
});
