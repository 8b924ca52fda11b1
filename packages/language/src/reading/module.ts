/** The language's services for the framework's container: lexer, parser and their words. */

import {
  createDefaultCoreModule,
  createDefaultSharedCoreModule,
  EmptyFileSystem,
  inject,
  type LangiumCoreServices,
  type LangiumSharedCoreServices,
  type Module,
  type PartialLangiumCoreServices,
} from 'langium';
import { OhmsteadGeneratedModule, OhmsteadGeneratedSharedModule } from '../generated/module.js';
import { WiringLexer } from './lexer.js';
import { createWiringParser } from './parser.js';
import { SyntaxErrorWords } from './syntax-error-words.js';
import { WiringTokenBuilder } from './tokens.js';
import { WiringValueConverter } from './value-converter.js';

const WiringModule: Module<LangiumCoreServices, PartialLangiumCoreServices> = {
  parser: {
    TokenBuilder: () => new WiringTokenBuilder(),
    Lexer: (services) => new WiringLexer(services),
    ValueConverter: () => new WiringValueConverter(),
    LangiumParser: (services) => createWiringParser(services),
    ParserErrorMessageProvider: () => new SyntaxErrorWords(),
    ParserConfig: () => ({ recoveryEnabled: false, skipValidations: true }),
  },
};

export interface WiringServices {
  readonly shared: LangiumSharedCoreServices;
  readonly wiring: LangiumCoreServices;
}

/** A container without files or editor: text in, tree out. */
export function createWiringServices(): WiringServices {
  const shared = inject(createDefaultSharedCoreModule(EmptyFileSystem), OhmsteadGeneratedSharedModule);
  const wiring = inject(createDefaultCoreModule({ shared }), OhmsteadGeneratedModule, WiringModule);
  shared.ServiceRegistry.register(wiring);
  return { shared, wiring };
}
