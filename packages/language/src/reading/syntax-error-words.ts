import { LangiumParserErrorMessageProvider } from 'langium';

type MismatchOptions = Parameters<LangiumParserErrorMessageProvider['buildMismatchTokenMessage']>[0];

/** Says of a mismatch only which token was expected; the sentence is made from it where the whole statement is known. */
export class SyntaxErrorWords extends LangiumParserErrorMessageProvider {
  override buildMismatchTokenMessage({ expected }: MismatchOptions): string {
    return expected.name;
  }
  override buildNotAllInputParsedMessage(): string {
    return '';
  }
  override buildNoViableAltMessage(): string {
    return '';
  }
  override buildEarlyExitMessage(): string {
    return '';
  }
}
