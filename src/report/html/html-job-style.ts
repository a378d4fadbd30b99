/**
 * How a job is laid out: what is decided by on one screen, the card below it, the rest folded; on paper two pages, the second of them the card.
 */
export const JOB_CSS = `
.job{border-top:2px solid var(--ink);padding-top:.6rem;margin:0 0 2rem}
.on-paper{display:none!important}
h2 small,.card h3 small{font:400 .9rem ui-sans-serif,system-ui,"Helvetica Neue",Arial,"DejaVu Sans",sans-serif;color:var(--soft);margin-left:.6rem}
.verdict{margin:.4rem 0 .6rem}
.todo{padding-left:1.1rem;margin:.4rem 0}.todo li{margin:.2rem 0}.todo a{font-weight:700}
.job{line-height:1.4}
.decision{display:flex;flex-wrap:wrap;gap:.8rem 1.5rem;margin:.3rem 0}
.decision>*{min-width:0;flex:1 1 20rem}.decision h3{margin:0 0 .2rem}
.beside-2>.lead{flex:2 1 40rem;max-width:100%}
.sections{display:grid;gap:.8rem 1.5rem;align-items:end;margin-top:.6rem}
.sections.of-2{grid-template-columns:repeat(auto-fit,minmax(min(100%,18rem),1fr))}
.decision .tools{gap:.3rem}.decision .tools button{min-height:2rem;padding:.1rem .55rem;font-size:.88rem}
.decision .told,.decision .legend{font-size:.88rem}.decision figcaption p{margin:.2rem 0}
.section .pic{max-width:23rem}.section p{margin:0 0 .3rem}
.numbers-line{font-weight:600;font-size:.92rem}
.cautions{font-size:.85rem}
.decision .map .view>.pic{max-height:16rem}
.stop{background:var(--ink);color:var(--paper);padding:.5rem .8rem}
.card{border:2px solid var(--ink);padding:.7rem 1rem;margin:1rem 0}
.card h3{margin:0 0 .2rem;font-size:1.25rem}.card p{margin:.3rem 0}
.checks{list-style:none;margin:.4rem 0;padding:0;columns:3 19rem;column-gap:1.5rem}
.checks li{display:grid;grid-template-columns:1.5rem 1fr;align-items:start;break-inside:avoid;padding:.1rem 0}
.checks input{width:1.1rem;height:1.1rem;margin:.2rem 0 0}
.card table{margin:.3rem 0}.card td,.card th{padding:.25rem .6rem .25rem 0}.card th .place{font-weight:400;margin-left:.4rem}
.folds{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,13rem),1fr));gap:0 1.5rem}
.folds>details{min-width:0;margin:0}.folds>[open]{grid-column:1/-1}
details.fold{border-bottom:1px solid var(--rule)}
summary{cursor:pointer;padding:.5rem 0;min-height:2.75rem;font-weight:600}
.lenses{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,18rem),1fr));gap:1rem;align-items:end}
.lenses .pic{width:100%;max-width:26rem}
.wide{overflow-x:auto}.wide .pic{display:block;width:100%;min-width:44rem;max-width:60rem;height:auto}
.card table{font-size:.95rem}
@media (max-width:40rem){
  .card{padding:.7rem}
  .card thead{display:none}.card table,.card tbody{display:block}.card tr{display:block;padding:.4rem 0;border-bottom:1px solid var(--rule)}
  .card table th,.card table td{display:block;border:none;padding:0}.card td::before{content:attr(data-is) ": ";color:var(--soft)}
}
@media print{
  .on-paper{display:block!important}.on-screen,.of-one h1,.fold,.jobs,.folds,footer,.rules,#findings{display:none!important}
  header .totals,header h1{font-size:1rem;margin:0}.mark{margin:0}
  .job{border:none;margin:0;padding:0;break-before:page}
  header+main>.job:first-of-type{break-before:auto}
  .decision{display:block}.sections.of-2{grid-template-columns:1fr 1fr;gap:4mm}.decision .sheet{margin-top:3mm}
  .section{break-inside:avoid}.section .pic{max-width:74mm}
  .decision .map .view>.pic{max-height:62mm}
  .card{break-before:page;break-inside:avoid;border-width:1.5pt;font-size:1.15rem;margin:0}
  .checks{columns:1}.checks li{padding:.35rem 0}
  .card td,.card th{padding-top:.5rem;padding-bottom:.5rem}
  .stop{border:2pt solid #000;background:none;color:#000}
  .cautions{font-size:1rem}
}
`.trim();
