package report

// style is the look of a page: one column that reflows down to 320 pixels, a focus that is always seen, and a print
// sheet. No meaning is told by colour alone.
const style = `:root{color-scheme:light}
*{box-sizing:border-box}
body{margin:0;font:1rem/1.5 system-ui,"Segoe UI",Helvetica,Arial,sans-serif;color:#1a1a1a;background:#fff}
header,main,footer{max-width:58rem;margin:0 auto;padding:0 .75rem;overflow-wrap:break-word}
header p,footer p{color:#595959;margin:.75rem 0}
h1,h2,h3{color:#1f5f8b;line-height:1.25;margin:1.75rem 0 .5rem}
h1{font-size:1.9rem;margin-top:.5rem}h2{font-size:1.45rem;border-top:1px solid #767676;padding-top:1rem}h3{font-size:1.15rem}
p,li{max-width:46rem}
.answer{font-size:1.25rem;margin:.4rem 0}
.small{color:#595959;font-size:.95rem}
a{color:#005fcc}
nav ul{padding:0;margin:1rem 0;list-style:none;display:flex;flex-wrap:wrap;gap:.25rem .5rem}
nav li{min-width:0;overflow-wrap:anywhere}
nav a{display:inline-block;min-height:44px;padding:.5rem .75rem;border:1px solid #767676;border-radius:.25rem}
.skip{position:absolute;left:-99rem}
.skip:focus{position:static;display:inline-block;padding:.75rem}
:focus-visible{outline:3px solid #005fcc;outline-offset:2px}
main:focus{outline:none}
figure{margin:1rem 0}
.map svg{display:block;width:100%;height:auto;forced-color-adjust:none}
.phone,.only{max-width:30rem}.desk{display:none;max-width:42rem}
@media (min-width:44rem){.phone{display:none}.desk{display:block}}
.maps{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(15rem,100%),1fr));gap:1rem}
.small-map{margin:0}.small-map svg{display:block;width:100%;max-width:20rem;height:auto;forced-color-adjust:none}
figcaption{color:#595959;margin-top:.25rem}
.patch{vertical-align:middle;margin-right:.5rem;forced-color-adjust:none}
.scroll{overflow-x:auto;margin:1rem 0}
table{border-collapse:collapse;width:100%;font-size:.95rem}
.scroll table{min-width:38rem}
caption{text-align:left;font-weight:bold;padding:.25rem 0}
th,td{text-align:left;vertical-align:top;padding:.4rem .5rem;border-bottom:1px solid #b5b5b5}
thead th{background:#eef2f6;border-bottom:2px solid #1f5f8b}
tbody th{font-weight:bold}
td a,th a{display:inline-block;min-height:24px}
.number{text-align:right;font-variant-numeric:tabular-nums}
.total th,.total td{border-top:2px solid #1a1a1a;font-weight:bold}
.legend{width:auto;max-width:100%}.legend .patch{margin-bottom:.1rem}.legend tbody th{font-weight:normal}
@media screen and (max-width:40rem){.scroll .stack{min-width:0}.stack,.stack caption,.stack tbody,.stack tr,.stack th,.stack td{display:block}
.stack thead{position:absolute;left:-99rem}.stack tr{border-bottom:2px solid #1f5f8b;padding:.4rem 0}.stack th,.stack td{border:0;padding:.2rem .5rem}
.stack td:not([data-head]){display:none}.stack tbody th{font-size:1.1rem}.stack tbody th::before{content:attr(data-head) " "}.stack td::before{content:attr(data-head);display:block;font-weight:bold}}
.marks{letter-spacing:.1em}
.part>div{scroll-margin-top:5rem}.part .part{margin-left:.75rem}
.part>summary{cursor:pointer;min-height:44px;border-top:1px solid #767676;padding:.4rem 0}.part>summary h2,.part>summary h3{display:inline;border:0;padding:0;text-decoration:underline}
.part[open]>summary .say{display:none}
@media print{.part>summary{list-style:none;border:0}.part>summary h2,.part>summary h3{text-decoration:none}.say{display:none}
details::details-content{content-visibility:visible!important;block-size:auto!important}nav,.skip{display:none}body{font-size:10pt}.scroll{overflow:visible}.scroll table{min-width:0}
svg,thead th{print-color-adjust:exact;-webkit-print-color-adjust:exact}h1,h2,h3{break-after:avoid}.newpage{break-before:page}.newpage+h2{border-top:0;padding-top:0}figure,tr,.legend{break-inside:avoid}caption,thead{break-after:avoid}tbody tr:first-child{break-before:avoid}.phone{display:none}.desk{display:block;max-width:16cm}
a{color:inherit;text-decoration:none}}
`
