package export

// Paper is a size of paper, upright.
type Paper struct {
	Name          string
	Width, Height float64 // mm
}

// Papers returns the sizes of paper known here. The A sizes are those of ISO 216; the
// others are exact in inches (ANSI/ASME Y14.1 sizes A and B, from memory; Legal is
// common practice): 8.5 by 11, 8.5 by 14 and 11 by 17.
func Papers() []Paper {
	const inch = 25.4
	return []Paper{{"A4", 210, 297}, {"Letter", 8.5 * inch, 11 * inch}, {"Legal", 8.5 * inch, 14 * inch}, {"A3", 297, 420}, {"Tabloid", 11 * inch, 17 * inch}}
}

// PaperNamed returns the paper of a name.
func PaperNamed(name string) (Paper, bool) {
	for _, p := range Papers() {
		if p.Name == name {
			return p, true
		}
	}
	return Paper{}, false
}
