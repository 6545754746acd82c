/**
 * Sheet of an embed: everything can be themed by `--wheelgrist-…` and `::part`. Where there are fewer than 28 em the rows of a table
 * become cards; those of a wide table sooner, since the em of what it stands in is larger.
 */
export const style = `
:host{display:block;color-scheme:light dark}:host([hidden]),.hidden:empty,[hidden]{display:none}
.all{box-sizing:border-box;color:var(--wg-ink);background:var(--wg-ground);font-size:var(--wheelgrist-size,1.0625rem);line-height:1.5;padding:1rem;border:1px solid var(--wg-line);border-radius:8px;max-width:40rem;overflow-wrap:break-word}
.all *{box-sizing:border-box}p,ul{margin:.4em 0}.title{font-weight:650;font-size:1.1em}
.fields{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,14em),1fr));gap:0 1.5em;margin:.6em 0}.field{display:grid;grid-row:span 2;grid-template-rows:subgrid;margin-bottom:.8em}.head{align-self:end}
label{display:block;font-weight:600}.hint,.foot,dt{color:var(--wg-soft);font-size:.85em}.hint{display:block}
.box{display:flex;align-items:center;gap:.5em}.unit{flex:0 0 auto;color:var(--wg-soft)}.unit:empty{display:none}
input,select{font:inherit;color:inherit;background:var(--wg-ground);border:1px solid var(--wg-soft);border-radius:5px;padding:.3em .5em;min-height:2.5em;width:100%;min-width:0}
[aria-invalid=true]{border:2px solid var(--wg-madder)}.wrong{color:var(--wg-madder);font-size:.9em;margin:.2em 0 0}
:focus-visible{outline:3px solid var(--wg-woad);outline-offset:2px}a{color:var(--wg-woad)}
summary{cursor:pointer;padding:.4em 0;min-height:28px;font-weight:600}
.numbers{list-style:none;padding:0;display:flex;flex-wrap:wrap;gap:.2em 2em}.numbers strong{display:block;font-size:clamp(1.2em,7.4cqi,2em);line-height:1.15}.answer{margin-top:1em}
.caution,.look{border-inline-start:6px solid var(--wg-madder);padding:.2em .7em}.look{border-inline-start:6px dotted var(--wg-weld)}.caution b{color:var(--wg-madder)}.look b{color:var(--wg-weld)}
.drawn{overflow-x:auto}svg{display:block;width:100%;min-width:25rem;max-width:28rem;height:auto}
dl{display:grid;grid-template-columns:auto 1fr;gap:.1em 1em;margin:.4em 0}dd{margin:0}
table{border-collapse:collapse;width:100%;font-size:.9em;margin:.5em 0}caption{text-align:start;font-weight:600}th,td{text-align:start;vertical-align:top;padding-block:.3em;padding-inline:0 .8em;border-bottom:1px solid var(--wg-line)}th{color:var(--wg-soft);font-weight:600}
.ticks{flex:1}.tick{display:flex;gap:.5em;align-items:start;font-weight:400;padding:.25em 0;min-height:28px}.tick input{width:1.3em;min-height:1.3em;flex:none;margin:.1em 0}.cards{padding-inline-start:1.3em}.cards .caution{font-size:.9em}
.field:has(.ticks){grid-column:1/-1}
.drawn:not(:empty)~.foot span{display:none}
:host([has-wheel]) .of-wheel{display:none}
.hidden{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.all,.wide{container-type:inline-size}.wide{font-size:1.5em}.wide>*{font-size:.6em}
@container (max-width:28em){thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}table,tbody,tr,td,caption{display:block}td{display:flex;gap:.8em;border:0;padding:.1em 0}td.long,td.long::before{display:block}tr{border-bottom:1px solid var(--wg-line);padding:.3em 0}td::before{content:attr(data-head);color:var(--wg-soft);flex:1}td>span{flex:1}}
@media print{svg{min-width:0}form,details:not([open]){display:none}.all{border:0;padding:0}}
`;
