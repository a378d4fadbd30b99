// css-tree's parts without the grammar of all properties, which takes longer to set up than a small job to judge.
declare module 'css-tree/parser' {
  export { parse as default } from 'css-tree';
}
declare module 'css-tree/generator' {
  export { generate as default } from 'css-tree';
}
declare module 'css-tree/utils' {
  export { ident } from 'css-tree';
}
