import { DARK_INKS, inkProperties, LIGHT_INKS, PICTURE_CSS } from '../pictures/picture-style.ts';
import { JOB_CSS } from './html-job-style.ts';

const LAYOUT = `
*{box-sizing:border-box}
html{color-scheme:light dark;-webkit-text-size-adjust:100%}
body{margin:0;overflow-wrap:anywhere;background:var(--paper);color:var(--ink);font:16px/1.5 ui-sans-serif,system-ui,"Helvetica Neue",Arial,"DejaVu Sans",sans-serif}
header,main,footer{max-width:78rem;margin:0 auto;padding:0 1rem}
h1,h2,h3{font-family:Georgia,"DejaVu Serif",serif;line-height:1.2;font-weight:700}
h1{font-size:clamp(1.6rem,5vw,2.5rem);margin:.2rem 0 .5rem;max-width:26ch}
h2{font-size:1.6rem;margin:0 0 .3rem;overflow-wrap:anywhere}
h3{font-size:1.15rem;margin:2rem 0 .6rem}
p{margin:.4rem 0}
a{color:inherit;text-decoration-thickness:1px;text-underline-offset:.2em}
a:hover{text-decoration-thickness:3px}
:focus-visible{outline:3px solid var(--ink);outline-offset:2px}
.skip{position:absolute;left:-99rem}.skip:focus{left:1rem;top:.5rem;background:var(--paper);padding:.4rem .8rem;z-index:2}
.unseen{position:absolute;width:1px;height:1px;margin:0;padding:0;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
.mark{margin:1.6rem 0 0;letter-spacing:.08em;font-size:.85rem;color:var(--soft)}
.totals{font-size:1.05rem;margin-bottom:1.2rem}
.soft,.aside,figcaption{color:var(--soft);font-size:.9rem}
.place,code,pre{font-family:ui-monospace,"DejaVu Sans Mono",Menlo,Consolas,monospace;font-size:.86em}
.place{overflow-wrap:anywhere}
.comparison .scroll{overflow-x:auto}.comparison .compared td{white-space:nowrap}.was{display:block;opacity:.8}
.both{margin:.8rem 0 1.6rem}.both h4{margin:0 0 .4rem;font-size:1rem}
.jobs{list-style:none;margin:0 0 2.5rem;padding:0;border-top:2px solid var(--ink)}
.jobs li{padding:.55rem 0 .55rem .9rem;border-bottom:1px solid var(--rule);border-left:.45rem solid transparent}
.jobs li.fail,.verdict.fail{border-left-color:var(--ink)}
.jobs li.incomplete,.verdict.incomplete{border-left:.45rem double var(--ink)}
.jobs a{font-weight:700;overflow-wrap:anywhere}
.jobs span{color:var(--soft)}
.jobs p{margin:.25rem 0 0;max-width:80ch;overflow-wrap:anywhere}.jobs p a{font-weight:600}
.verdict{border-left:.45rem solid var(--rule);padding-left:.9rem;margin:.6rem 0 1rem}
.verdict strong{display:block;font-size:1.15rem}
figure{margin:0}
figure>.pic,.view .pic{display:block;width:100%;height:auto}
.map{border:1px solid var(--rule);padding:.5rem}
.map .view{overflow:hidden;position:relative}
.map .view>.pic{max-height:80vh}
.view :is(.p-cut path,.p-hit,.p-edge,.p-bed,.p-area,.p-artwork,.p-travel){vector-effect:non-scaling-stroke}
.view .marks{position:absolute;inset:0;width:100%;height:100%;max-height:none;pointer-events:none}
@media not print{.scripted .axes{display:none}}
.piece.under,.piece.chosen{stroke-width:7px}.piece.under rect,.piece.chosen rect{stroke:var(--ink);stroke-width:4px}
.p-ring{fill:none;stroke:var(--ink);stroke-width:3px}.p-halo{fill:none;stroke:var(--paper);stroke-width:7px}
.tools{display:flex;gap:.5rem;flex-wrap:wrap;align-items:center;margin-bottom:.4rem}
.tools .shown{flex:1 1 100%;font-size:.85rem;line-height:1.3;white-space:nowrap;overflow:hidden;text-overflow:ellipsis;min-height:1.3em}
.told{border-left:3px solid var(--ink);padding-left:.7rem;min-height:3em;margin:.5rem 0}
button,select{font:inherit;color:inherit;background:var(--paper);border:1.5px solid var(--ink);border-radius:.2rem;padding:.35rem .8rem;min-height:2.75rem}
button:hover,select:hover{background:var(--sheet)}
[hidden]{display:none!important}
.legend{list-style:none;display:flex;flex-wrap:wrap;gap:.2rem 1.1rem;padding:0;margin:.5rem 0;color:var(--ink)}
.legend .lead{flex-basis:100%}
.legend svg{vertical-align:middle}
.sliding .marks{opacity:0}
.heavy{transform-origin:0 0;will-change:transform}
.cut:focus{outline:none}.cut:focus-visible .p-cut{stroke-width:7px}
.cut:focus-visible .p-hit{stroke:var(--ink);stroke-opacity:.25;stroke-width:18px}
.pin:focus{outline:none}.pin:is(:focus-visible,.under,:target) :is(path,circle){stroke-width:4px}
table{border-collapse:collapse;width:100%}
th,td{text-align:left;vertical-align:top;padding:.4rem .6rem .4rem 0;border-bottom:1px solid var(--rule)}
thead th{font-size:.85rem;color:var(--soft);font-weight:600;border-bottom:1.5px solid var(--ink)}
caption{text-align:left;font-weight:700;padding-bottom:.3rem}
.number{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap;padding-right:0}
details.cuts{margin-top:1rem;overflow-wrap:anywhere}.cuts th{overflow-wrap:normal}
.pair{display:grid;grid-template-columns:repeat(auto-fit,minmax(17rem,1fr));gap:1.5rem}
.bars .bar{width:34%;padding-right:.8rem}.bars .bar svg{display:block;width:100%;height:.7rem;margin-top:.4rem}
.bars{table-layout:fixed}.bars .number{white-space:normal}.bars th{font-weight:400;overflow-wrap:anywhere}.bars .total th,.bars .total td{font-weight:700;border-bottom:none}
.card table{table-layout:fixed}.card th,.card td{overflow-wrap:anywhere}
.filters{display:flex;flex-wrap:wrap;gap:.8rem;align-items:end;margin:.6rem 0 1rem}
.filters label{display:grid;gap:.2rem;font-size:.9rem}
.filters select{max-width:18rem}
.findings{table-layout:fixed}.findings th:first-child{width:5.2rem}
.findings tbody th{font-size:1.3rem;font-family:Georgia,"DejaVu Serif",serif}
.findings tbody th span{display:block;font:600 .85rem/1.2 ui-sans-serif,system-ui,"Helvetica Neue",Arial,sans-serif}
.findings tr.error th{box-shadow:inset .35rem 0 var(--ink);padding-left:.8rem}
.findings tr.warning th{box-shadow:inset .35rem 0 var(--faint);padding-left:.8rem}
.findings tr.note th{padding-left:.8rem}
.findings tr:target td,.cuts tr:target td,.findings tr:target th{background:var(--sheet)}
.message{max-width:80ch;overflow-wrap:anywhere}
.hint::before{content:"→ "}
.tag{border:1px solid var(--soft);padding:0 .4rem;font-size:.85rem}
pre{white-space:pre-wrap;overflow-wrap:anywhere;background:var(--sheet);padding:.5rem .7rem;margin:.5rem 0;line-height:1.45}
pre .no{display:inline-block;min-width:2.6em;text-align:right;color:var(--soft);margin-right:.6em}
mark{background:none;color:inherit;font-weight:700;box-shadow:inset 0 -2px var(--ink)}
.rule{border-bottom:1px solid var(--rule)}.rule p{max-width:80ch}
#findings,#rules-title,#not-checked{margin-top:2.5rem}
footer{border-top:2px solid var(--ink);padding-top:1rem;padding-bottom:3rem;margin-top:3rem;font-size:.9rem}
@media (max-width:40rem){
  .axes text{font-size:1.9em}.numbers{display:none}
  .cuts thead{display:none}.cuts table,.cuts tbody{display:block}
  .cuts tr{display:grid;grid-template-columns:2.2rem 1fr;border-bottom:1px solid var(--rule);padding:.4rem 0}
  .cuts th,.cuts td{border:none;padding:0}.cuts th{grid-row:1/6}.cuts td{grid-column:2}
  .findings th:first-child{width:4.4rem}
}
@media print{
  @page{size:A4;margin:12mm}
  .tools,.filters,.told,.skip,.marks{display:none!important}
  html{font-size:9.5pt}
  body{font-size:1rem;line-height:1.35;background:none}
  h3{margin:1.1rem 0 .4rem}
  header,main,footer{max-width:none;padding:0}
  figure,.pair{break-inside:avoid}
  h2,h3,h3+p{break-after:avoid}
  a{text-decoration:none}
}
`;

/** The whole style sheet of the HTML report: light, dark, and light again on paper. */
export const REPORT_CSS = [
  `:root{${inkProperties(LIGHT_INKS)}}`,
  `@media (prefers-color-scheme:dark){:root{${inkProperties(DARK_INKS)}}}`,
  `@media print{:root{${inkProperties(LIGHT_INKS)}}}`,
  PICTURE_CSS,
  LAYOUT.trim(),
  JOB_CSS,
].join('\n');
