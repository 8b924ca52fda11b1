import { type CstNode, DefaultValueConverter, type GrammarAST, type ValueType } from 'langium';

/** Text stands between its quotes as written: no character in it has a meaning of its own. */
export class WiringValueConverter extends DefaultValueConverter {
  protected override runConverter(rule: GrammarAST.AbstractRule, input: string, cstNode: CstNode): ValueType {
    if (rule.name === 'STRING') return input.replace(/^["\u201C-\u201F\u00AB]|["\u201C-\u201F\u00BB]$/g, '');
    if (rule.name === 'ID') return input;
    return super.runConverter(rule, input, cstNode);
  }
}
