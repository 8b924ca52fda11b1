export interface FurtherStates {
  readonly x: number;
}
