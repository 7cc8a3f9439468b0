/** For a projector: large type on the white of the drawings, one thing at a time; and for paper: all of it, one below the other. */
export const slidesStyle = `
:root{color-scheme:light;--paper:#fff;--ink:#211e1a;--muted:#5b554b;--line:#b9b09f;--heat:#bf481b}
*{box-sizing:border-box}html{height:100%}
body{margin:0;min-height:100%;background:var(--paper);color:var(--ink);font:1rem/1.45 "Atkinson Hyperlegible Next",sans-serif;font-variant-numeric:tabular-nums}
section.slide{padding:2rem clamp(1rem,4vw,4rem)}
.part{color:var(--muted);margin:0 0 .25rem;font-size:.8em}
h1,h2{line-height:1.15;margin:0 0 .6em}h1{font-size:2em}h2{font-size:1.5em}h2:focus,h1:focus{outline:none}
p,ul,ol,dl{max-width:62ch;margin:.6em 0}li{margin:.25em 0}.subtitle{color:var(--muted)}
dl{display:grid;grid-template-columns:max-content 1fr;gap:.35em 1.25em}dt{color:var(--muted)}dd{margin:0;overflow-wrap:anywhere}
figure{margin:1em 0}figcaption,caption{color:var(--muted);font-size:.85em;text-align:left}
.drawing svg,img{display:block;width:100%;height:auto}
.scroll{overflow-x:auto;margin:1em 0}figure>.scroll,.formula>.scroll{margin:0}caption span{display:inline-block;max-width:62ch}table{border-collapse:collapse;font-size:.85em}
th,td{padding:.25em .9em .25em 0;text-align:left;border-bottom:1px solid var(--line);vertical-align:top}
thead th{border-bottom:2px solid var(--ink);vertical-align:bottom}th.number,td.number{text-align:right;white-space:nowrap}
.unseen{visibility:hidden}.formula{margin:.8em 0;font-size:1.15em}.formula>.scroll{padding:.4em 0}.source{color:var(--muted);font-size:.65em;margin:.25em 0 0}
.remark{border-left:1px solid var(--ink);padding-left:.75em}.remark.repeat{border-left:4px solid var(--heat)}
.care{border:2px solid var(--ink);padding:.75em 1em}
details{margin:.5em 0;font-size:.75em}summary{cursor:pointer;min-height:1.5rem}
.notes{display:none;clear:both;border-top:2px solid var(--ink);margin-top:1.5em;padding-top:.5em;font-size:.8em}
.notes h3{font-size:1em;margin:0}
.overview{padding:2rem clamp(1rem,4vw,4rem)}.overview ol{max-width:none;columns:20rem;padding-left:2.5em}
.overview a{display:inline-block;min-height:2.75rem;padding:.5rem 0;color:inherit}
.overview,.bar,.desk{display:none}
.bar{position:fixed;inset:auto 0 0 0;gap:.25rem;align-items:center;background:var(--paper);border-top:1px solid var(--line);padding:.25rem clamp(.5rem,4vw,4rem)}
.bar button{font:inherit;color:inherit;background:none;border:1px solid transparent;min-width:2.75rem;min-height:2.75rem;padding:.25rem .75rem;cursor:pointer}
.bar button:hover{border-color:var(--line)}.bar button[aria-pressed=true]{border-color:var(--ink)}.bar output{margin-left:auto;color:var(--muted)}
:focus-visible{outline:2px solid var(--ink);outline-offset:2px}
footer{padding:1rem clamp(1rem,4vw,4rem);color:var(--muted);font-size:.8rem;overflow-wrap:anywhere}
@media screen{
.shown section.slide{display:none;padding-bottom:5rem;font-size:calc(var(--fit,1)*clamp(1rem,.55rem + 1.25vw,2.1rem))}
.shown section.slide.current{display:flow-root;min-height:100vh}
.shown footer{display:none}.shown .bar{display:flex}
.shown.over section.slide.current{display:none}.shown.over .overview{display:block;padding-bottom:5rem}
.shown.speaking .notes{display:block}
.shown .drawing svg,.shown img{max-height:calc(var(--fit,1)*62vh)}
.shown p:not(.part)~figure .drawing svg{max-height:calc(var(--fit,1)*50vh)}
}
@media screen and (min-width:60rem){.shown figure.w7{float:left;width:62%;margin:0 2rem 0 0}.shown figure.w7 .drawing svg{max-height:calc(var(--fit,1)*62vh)}}
@media screen and (min-width:48rem){.speaker body{display:grid;grid-template-columns:minmax(0,3fr) minmax(18rem,2fr)}}
@media screen{
.speaker main section.slide,.speaker .overview{font-size:1rem;padding:1.5rem 1.5rem 5rem}.speaker.speaking .notes{display:none}
.speaker .desk{display:block;padding:1.5rem 1.5rem 5rem;border-left:1px solid var(--line);font-size:1.25rem}
.speaker [data-does=notes],.speaker [data-does=speaker]{display:none}
.desk p{margin:0 0 .75em}.desk-time{font-size:2em;font-weight:650}.desk-small{color:var(--muted);font-size:.85em}
.desk button{font:inherit;font-size:.85em;color:inherit;background:none;border:1px solid var(--line);min-height:2.75rem;padding:.25rem .75rem;cursor:pointer}
}
@media print{:root{--paper:#fff;--ink:#000;--muted:#333;--line:#888}
body{font-size:10.5pt}section.slide{padding:0 0 1.2em}details,.bar,.overview,.notes,.desk{display:none!important}
h1,h2,.part{break-after:avoid}figure,table,.care,.formula{break-inside:avoid}.drawing svg{max-height:10cm}}
`;
