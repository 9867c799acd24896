package export

import (
	"bytes"
	"fmt"
	"html"
	"strings"

	"fullerwright/export/sheet"
)

// setupStyle is the look of the page: letters as high as those of the pages, each program
// beginning on a page of its own, its names repeated at the head of every printed page.
const setupStyle = `@page{margin:12mm}
*{box-sizing:border-box}
body{font:14pt/1.3 Go,Arial,Helvetica,sans-serif;color:#000;background:#fff;max-width:186mm;margin:0 auto}
table.program{width:100%;border-collapse:collapse;page-break-before:always;break-before:page}
table.program:first-of-type{page-break-before:auto;break-before:auto}
table.program>thead>tr>th{text-align:left;font-weight:normal;border-bottom:.6mm solid #000;padding:0 0 2mm}
table.program>thead b{font-size:1.35em;display:block}
h2{font-size:1.08em;background:#dfe6ec;margin:3.5mm 0 1mm;padding:.6mm 2mm;break-after:avoid;-webkit-print-color-adjust:exact;print-color-adjust:exact}
p,ul,dl{margin:1mm 0}
ul{padding-left:6mm}
ul.ticks{list-style:none;padding:0}
ul.ticks li{padding-left:7mm;text-indent:-7mm}
i.box{display:inline-block;width:4mm;height:4mm;border:.35mm solid #000;margin-right:3mm}
dl{display:grid;grid-template-columns:25% 75%}
dt{font-weight:bold}
dd{margin:0}
dl.blanks{grid-template-columns:1fr 26mm 1fr 26mm;column-gap:3mm;row-gap:1.2mm;align-items:end}
dl.blanks dt{font-weight:normal}
dl.blanks dd{border-bottom:.35mm solid #000;height:100%}
table.grid{width:100%;border-collapse:collapse;margin:1mm 0 2mm}
table.grid td,table.grid th{border-bottom:.15mm solid #000;padding:.4mm 1.5mm;text-align:right;vertical-align:top;white-space:nowrap}
table.grid th{white-space:normal}
table.grid .words{text-align:left;white-space:normal}
table.grid tr,table.whole,figure,dl,ul.ticks,li,p{break-inside:avoid}
p:has(+table){break-after:avoid}
figure{margin:1mm 0}
svg{max-width:100%;height:auto;-webkit-print-color-adjust:exact;print-color-adjust:exact}
td:has(>i.box){white-space:nowrap!important}
@media screen{body{padding:4mm;max-width:194mm}table.program{margin-bottom:12mm}}
@media screen and (max-width:194mm){body{font-size:12pt;padding:2mm}dl{grid-template-columns:8em 1fr}dl.blanks{grid-template-columns:1fr 26mm}table.grid{display:block;overflow-x:auto}table.program{table-layout:fixed}}
`

// htmlWidth is the width of the page's column, mm: what A4 leaves between its margins.
const htmlWidth = 186

// SetupHTML returns the setup sheet as one page for a browser, which prints as well. It
// holds all it needs.
func SetupHTML(s SetupSheet) ([]byte, error) {
	ruler, err := sheet.NewRuler()
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width\">\n<title>%s</title>\n<meta name=\"description\" content=\"%s\">\n<style>\n%s</style>\n</head>\n<body>\n",
		html.EscapeString("Setup sheet: "+s.Blade.Knife.Name), html.EscapeString(s.about()), setupStyle)
	for i := frontPage; i < len(s.Steps); i++ {
		file, program := s.names(i)
		fmt.Fprintf(&b, "<table class=\"program\">\n<thead><tr><th><b>%s</b>%s: %s. %s</th></tr></thead>\n<tbody><tr><td>\n",
			html.EscapeString(s.title(i)), s.place(i), html.EscapeString(program), html.EscapeString(file))
		for j, part := range s.content(i, htmlWidth, ruler) {
			if err := htmlBlock(&b, part, fmt.Sprintf("p%d-%d-", i+1, j+1)); err != nil {
				return nil, err
			}
		}
		b.WriteString("</td></tr></tbody>\n</table>\n")
	}
	b.WriteString("</body>\n</html>\n")
	return b.Bytes(), nil
}

func htmlBlock(b *bytes.Buffer, part setupBlock, prefix string) error {
	e := html.EscapeString
	switch v := part.(type) {
	case heading:
		fmt.Fprintf(b, "<h2>%s</h2>\n", e(v.text))
	case paragraph:
		fmt.Fprintf(b, "<p>%s</p>\n", e(v.text))
	case facts:
		b.WriteString("<dl>")
		for _, row := range v.rows {
			fmt.Fprintf(b, "<dt>%s</dt><dd>%s</dd>\n", e(row[0]), e(row[1]))
		}
		b.WriteString("</dl>\n")
	case blanks:
		b.WriteString("<dl class=\"blanks\">")
		for _, label := range v.labels {
			fmt.Fprintf(b, "<dt>%s</dt><dd></dd>\n", e(label))
		}
		b.WriteString("</dl>\n")
	case tickList:
		htmlList(b, " class=\"ticks\"", "<i class=\"box\"></i>", v.items)
	case bulletList:
		htmlList(b, "", "", v.items)
	case grid:
		htmlGrid(b, v)
	case figureBox:
		return htmlFigure(b, v, prefix)
	}
	return nil
}

func htmlList(b *bytes.Buffer, class, before string, items []string) {
	fmt.Fprintf(b, "<ul%s>\n", class)
	for _, item := range items {
		fmt.Fprintf(b, "<li>%s%s</li>\n", before, html.EscapeString(item))
	}
	b.WriteString("</ul>\n")
}

func htmlGrid(b *bytes.Buffer, v grid) {
	row := func(cells []string, tag, first string) {
		b.WriteString("<tr>")
		for i, cell := range cells {
			class, lead := "", ""
			if i < v.texts {
				class = " class=\"words\""
			}
			if i == 0 {
				lead = first
			}
			fmt.Fprintf(b, "<%s%s>%s%s</%s>", tag, class, lead, html.EscapeString(cell), tag)
		}
		b.WriteString("</tr>\n")
	}
	box := ""
	if v.tick {
		box = "<i class=\"box\"></i>"
	}
	whole := ""
	if len(v.rows) <= setupWholeRows {
		whole = " whole"
	}
	fmt.Fprintf(b, "<table class=\"grid%s\">\n<thead>", whole)
	row(v.head, "th", "")
	b.WriteString("</thead>\n<tbody>\n")
	for _, cells := range v.rows {
		row(cells, "td", box)
	}
	b.WriteString("</tbody>\n</table>\n")
}

// htmlFigure writes a drawing into the page; its layers get names of their own.
func htmlFigure(b *bytes.Buffer, v figureBox, prefix string) error {
	s := sheet.Sheet{Title: v.about, Width: htmlWidth, Height: v.height}
	v.draw(&s, sheet.Box{MaxX: htmlWidth, MaxY: v.height})
	for i := range s.Layers {
		s.Layers[i].ID = prefix + s.Layers[i].ID
	}
	svg, err := sheet.SVG(s)
	if err != nil {
		return err
	}
	_, drawing, _ := strings.Cut(string(svg), "?>\n")
	fmt.Fprintf(b, "<figure role=\"img\" aria-label=\"%s\">%s</figure>\n", html.EscapeString(v.about), drawing)
	return nil
}
