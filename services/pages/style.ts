/** The one style sheet: undyed cloth and walnut, four dyes, system fonts, and a print on one sheet. */
import { palette, pictureStyle, type Colour } from '../foundation/drawing.js';

const set = (of: Readonly<Record<Colour, string>>): string => (Object.keys(of) as Colour[]).map((name) => `--${name}:${of[name]}`).join(';');

export const styleSheet = `:root{${set(palette.light)};color-scheme:light dark}
@media (prefers-color-scheme:dark){:root{${set(palette.dark)}}}
*{box-sizing:border-box}
html{font:18px/1.55 system-ui,"Segoe UI",Roboto,"Helvetica Neue",Arial,sans-serif;background:var(--ground);color:var(--ink);-webkit-text-size-adjust:100%}
body{margin:0;font-variant-numeric:tabular-nums;overflow-wrap:break-word}
.skip{position:absolute;left:-100vw}.skip:focus{left:.5rem;top:.5rem;background:var(--ground);padding:.5rem}
.bar{display:flex;flex-wrap:wrap;gap:.25rem 1.5rem;align-items:baseline;padding:.8rem 1rem;max-width:58rem;margin:0 auto}
.bar .mark{font-family:Georgia,"Iowan Old Style","Liberation Serif",serif;font-size:1.35rem;color:var(--ink);text-decoration:none;margin-right:auto}
.bar a{padding:.15rem 0;min-height:28px}
/* a selvedge: warp threads of the four dyes */
.selvedge{height:12px;border-block:1px solid var(--line);background:repeating-linear-gradient(90deg,var(--woad) 0 7px,transparent 7px 10px,var(--woad) 10px 12px,transparent 12px 22px,var(--madder) 22px 29px,transparent 29px 32px,var(--weld) 32px 34px,transparent 34px 44px,var(--lichen) 44px 48px,transparent 48px 58px)}
main,footer{max-width:58rem;margin:0 auto;padding:1rem}
main>*,section>*{max-width:34.5rem}
main>.wide,section>.wide,main>section,main>form{max-width:none}
h1,h2,h3{font-family:Georgia,"Iowan Old Style","Liberation Serif",serif;font-weight:600;line-height:1.2;text-wrap:balance}
h1{font-size:2.1rem;margin:1rem 0 .5rem}h2{font-size:1.45rem;margin:2.2rem 0 .6rem}h3{font-size:1.2rem;margin:1.6rem 0 .4rem}h4{font-size:1rem;margin:1.1rem 0 .2rem}
p,ul,ol,dl{margin:.5rem 0 .9rem}ul,ol{padding-left:1.3rem}li{margin:.25rem 0}
a{color:var(--woad);text-underline-offset:.18em}a:hover{text-decoration-thickness:2px}
:focus-visible{outline:3px solid var(--woad);outline-offset:2px;border-radius:3px}
.lead{font-size:1.15rem}.soft,.hint{color:var(--soft)}.hint{font-size:.85rem;display:block}
code,pre,.read{font-family:ui-monospace,"DejaVu Sans Mono",Menlo,Consolas,monospace;font-size:.85em}
pre{background:var(--cloth);border:1px solid var(--line);border-radius:6px;padding:.7rem .9rem;white-space:pre-wrap;overflow-wrap:anywhere;max-width:none}
.answer{background:var(--cloth);border:1px solid var(--line);border-radius:8px;padding:.4rem 1.1rem 1rem;margin:1.2rem 0}
.numbers{list-style:none;display:flex;flex-wrap:wrap;gap:.2rem 2.4rem;padding:0;margin:.8rem 0 .4rem;max-width:none}
.numbers strong{display:block;font:600 clamp(1.5rem,8vw,2.6rem)/1.15 Georgia,"Iowan Old Style","Liberation Serif",serif;font-variant-numeric:tabular-nums lining-nums}
.numbers.many strong{font-size:clamp(1.5rem,8vw,1.9rem)}
.caution,.look,.problem{border-left:6px solid var(--madder);padding:.5rem .9rem;margin:.8rem 0;background:var(--ground);border-radius:0 6px 6px 0}
.look{border-left:6px dotted var(--weld)}.caution b,.problem b{color:var(--madder)}.look b{color:var(--weld)}
.caution p,.look p{margin:.2rem 0}.problem h2{margin-top:.4rem}
figure{margin:1.2rem 0;max-width:30rem;overflow-x:auto}figure svg{display:block;width:100%;min-width:25rem;height:auto}figcaption{color:var(--soft);font-size:.85rem}
table{border-collapse:collapse;width:100%;max-width:none;margin:.5rem 0 1rem;font-size:.92rem}
caption{text-align:left;font-weight:600;padding:.3rem 0}
th,td{text-align:left;vertical-align:top;padding:.35rem .8rem .35rem 0;border-bottom:1px solid var(--line)}thead th{font-weight:600;color:var(--soft);font-size:.8rem;line-height:1.3}
dl.facts{display:grid;grid-template-columns:minmax(9rem,auto) 1fr;gap:.1rem 1rem}dl.facts dt{color:var(--soft)}dl.facts dd{margin:0}
details{border-top:1px solid var(--line);margin:.6rem 0;max-width:none}details[open]{padding-bottom:.6rem}
summary{cursor:pointer;padding:.5rem 0;min-height:28px;font-weight:600}
form{margin:1rem 0}
.fields{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,17rem),1fr));gap:0 2rem;margin:.6rem 0}
.field{display:grid;grid-row:span 2;grid-template-rows:subgrid;align-content:start;margin-bottom:1rem}.field .head{align-self:end}
label,legend{font-weight:600;display:block;line-height:1.3}
fieldset{border:0;padding:0;margin:0;min-width:0}
.box{display:flex;align-items:center;gap:.5rem;margin-top:.2rem}.box+.box{margin-top:.4rem}
input,select,button{font:inherit;color:inherit;min-height:2.6rem}
input,select{background:var(--ground);border:1px solid var(--soft);border-radius:5px;padding:.3rem .6rem;width:100%;min-width:0}
.box .unit{color:var(--soft);flex:0 0 4.2rem;font-size:.9rem}
[aria-invalid=true]{border:2px solid var(--madder)}
.wrong{color:var(--madder);margin:.3rem 0 0;font-size:.9rem}.wrong .soft{color:var(--ink)}
button{background:var(--woad);color:var(--ground);border:1px solid var(--woad);border-radius:5px;padding:.3rem 1.3rem;font-weight:600;cursor:pointer}
.ticks{grid-column:1/-1;display:block}.ticks>div{columns:17rem;column-gap:2rem}.group{break-inside:avoid;margin:0 0 .4rem}.tick{display:flex;gap:.6rem;align-items:start;font-weight:400;padding:.3rem 0;min-height:28px}.tick input{width:1.25rem;height:1.25rem;min-height:0;flex:none;margin:.1rem 0}
.advice{max-width:none;padding-left:1.4rem;display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,20rem),1fr));gap:.2rem 2.5rem}.advice h3{margin:.9rem 0 .2rem}.advice p{margin:.25rem 0}.advice .caution{font-size:.9rem}.fit{font:400 .9rem system-ui,sans-serif;color:var(--soft);display:block}
.send{display:flex;flex-wrap:wrap;gap:1rem 2rem;align-items:end;margin:1.2rem 0}.send>*{flex:0 1 auto}
.cards{list-style:none;padding:0;display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,16rem),1fr));gap:1rem;max-width:none}
.cards li{border:1px solid var(--line);border-top:4px solid var(--woad);border-radius:6px;padding:.7rem 1rem;margin:0;background:var(--cloth)}
.cards li:nth-child(4n+2){border-top:4px dashed var(--madder)}.cards li:nth-child(4n+3){border-top:4px dotted var(--weld)}.cards li:nth-child(4n+4){border-top:4px double var(--lichen)}
.cards p{margin:.3rem 0}.cards a{font-weight:600}
.two{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,22rem),1fr));gap:1rem 2.5rem;align-items:start;max-width:none}
.card-groups{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,20rem),1fr));gap:0 2.5rem;max-width:none}
.note{grid-column:1/-1}.note p{white-space:pre-line;max-width:34.5rem}
.two>*{min-width:0}.two>div{max-width:34.5rem}
table.rows tbody th{font-weight:600}.first-aid tbody th{width:20%}.place th{color:var(--soft);padding-top:.8rem}
footer{border-top:1px solid var(--line);margin-top:3rem;color:var(--soft);font-size:.88rem}
wheelgrist-ratio{display:block}
.analysis figure{max-width:42rem}.analysis section{max-width:none}.analysis section>p{max-width:34.5rem}
.unseen{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.play .field{display:block}.play input[type=range]{padding:0;accent-color:var(--woad)}.played figure{max-width:32rem;margin-top:0}.played [data-wheel]{cursor:grab;touch-action:none}.played .wg-ink{color:var(--ink)}
.snippet button{min-height:2.2rem;padding:.1rem .9rem}.cards img{display:block;width:100%;height:11rem;object-fit:contain;object-position:top left;background:var(--ground);border-radius:4px;margin:.5rem 0}
${pictureStyle}
figure .wg-picture{border-radius:6px}
@media (max-width:40rem){
dl.facts{grid-template-columns:minmax(0,1fr) minmax(0,1fr)}
html{font-size:17px}main,footer{padding:1rem .8rem}.answer{padding:.2rem .7rem .8rem}.answer figure{margin-inline:-.5rem}h1{font-size:1.7rem}
table.rows thead{position:absolute;left:-100vw}table.rows,table.rows tbody,table.rows tr,table.rows td,table.rows th,table.rows caption{display:block}
table.rows tr{border-bottom:1px solid var(--line);padding:.4rem 0}table.rows td,table.rows tbody th{border:0;padding:.1rem 0;display:flex;gap:.8rem;justify-content:space-between}
table.rows td:empty{display:none}.first-aid tbody th{width:auto}table.rows td.long,table.rows td.long::before{display:block}table.rows [data-head]::before{content:attr(data-head);color:var(--soft);font-weight:400;flex:1 1 50%}table.rows [data-head]>span{flex:1 1 50%}
}
@media (forced-colors:active){button,.answer,.cards li,pre{border:1px solid CanvasText}.selvedge{background:none}}
@media (prefers-reduced-motion:reduce){*{scroll-behavior:auto!important}}
@media print{
@page{margin:10mm}
:root{${set({ ...palette.light, ground: '#fff', cloth: '#fff', soft: '#333' })};color-scheme:light}
html{font-size:9.2pt;line-height:1.28}.bar,.selvedge,form,.skip,.screen,details:not([open]),.problem+form{display:none!important}
main,footer{max-width:none;padding:0;margin:0}main>*,section>*{max-width:none}h1{font-size:18pt;margin:0 0 2mm}h2{font-size:13pt;margin:3mm 0 1mm}h3{font-size:11pt;margin:3mm 0 1mm}
.answer{border:0;padding:0;margin:0}.numbers strong{font-size:17pt}figure{max-width:66mm;margin:1mm 0;break-inside:avoid}figure svg{min-width:0}table{font-size:9pt}th,td{padding:.6mm 3mm .6mm 0}p,ul,ol,dl{margin:.2rem 0 .4rem}.caution,.look{padding:.2rem .6rem;margin:.3rem 0}section,.caution{break-inside:avoid}
footer{margin-top:4mm;padding-top:2mm}.analysis figure{max-width:98mm}.analysis section{break-inside:avoid}.analysis table{font-size:8pt}.class-sheet table{font-size:8.2pt}.class-sheet th,.class-sheet td{padding:.35mm 2mm .35mm 0}.advice{grid-template-columns:1fr 1fr 1fr;gap:1mm 5mm;font-size:8.6pt}.advice h3{margin-top:1mm}.advice li{break-inside:avoid}.advised>.two,.advised>.sources{display:none}a{color:inherit;text-decoration:none}
.first-aid h1{font-size:15pt}.first-aid p{margin:.1rem 0}.first-aid{font-size:8pt}.first-aid table{font-size:7pt;line-height:1.18;margin:1mm 0}.first-aid th,.first-aid td{padding:.3mm 2mm .3mm 0}.first-aid td:nth-child(2){width:17%}.first-aid tr{break-inside:avoid}.first-aid~footer,.first-aid+footer{margin-top:1mm}
.two{grid-template-columns:1fr 66mm;gap:1mm 6mm}.sheet section~section figure{display:none}.note p{max-width:none;columns:2;column-gap:8mm;font-size:8.6pt;line-height:1.2}.sheet .card-groups{grid-template-columns:1fr 1fr;gap:0 8mm}.sheet .modes{display:grid;grid-template-columns:1fr 1fr;gap:0 8mm}.sheet .modes section:first-child{grid-column:1/-1}.sheet .modes section~section .two{grid-template-columns:1fr}.sheet figure svg{max-height:80mm}.sheet .numbers strong{display:inline;font-size:13pt}.sheet .numbers{gap:0 6mm}.sheet .facts{grid-template-columns:auto 1fr auto 1fr}.sheet figure{max-width:54mm}.sheet .two{grid-template-columns:1fr 54mm}
.answer{font-size:8pt;line-height:1.18;break-inside:auto}.answer table{font-size:7.4pt}.answer h4{font-size:8.2pt;margin:1mm 0 0}.answer td,.answer th{padding:.15mm 1.5mm .15mm 0}.answer .two>div:only-child{grid-column:1/-1;max-width:none}.answer .taken{columns:3;column-gap:5mm;font-size:7pt;line-height:1.12;padding-left:3mm}.answer .taken li{margin:.2mm 0;break-inside:avoid}
.answer .full{columns:3;column-gap:6mm}.answer .full>div{break-inside:avoid}.answer .full>.across{column-span:all}.answer .full>.across dl.facts{grid-template-columns:repeat(3,auto 1fr)}.answer dl.facts{grid-template-columns:1fr auto;gap:0 2mm;margin:0}.answer .caution,.answer .look{padding:.1rem .6rem;margin:.15rem 0}
/* Where much was taken for granted, its ranges stand on the screen alone, and the rest closer. */
.answer{zoom:.9}.answer.long{zoom:.78}.answer.long .cautions{columns:2;column-gap:6mm}.answer.long .cautions>*{break-inside:avoid}.answer.long .taken .soft{display:none}.answer.long .full{columns:1}.answer.long dl.facts{grid-template-columns:repeat(3,auto 1fr)!important}.answer.long>h2{display:none}.answer.long h3{margin:1.5mm 0 .5mm}.answer.long table{margin:.5mm 0 1mm}
}
`;
