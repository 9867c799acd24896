package dialect

import (
	"fmt"

	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// Entry is one key of a dialect's table in the shop file, and the field it stands for.
type Entry struct {
	document.Key
	field func(d *Dialect) any
}

// Set gives a dialect the value that was read for the key.
func (e Entry) Set(d *Dialect, v document.Value) {
	switch target := e.field(d).(type) {
	case *bool:
		*target = v.Flag
	case *int:
		*target = v.Count
	case *float64:
		*target = v.Float
	case *geom.Angle:
		*target = geom.Angle(v.Float)
	case *string:
		*target = v.Text
	default:
		panic(fmt.Sprintf("impossible: the table of dialects points to a %T", target))
	}
}

// Say returns the value that a dialect has for the key, as it is typed in a shop file.
func (e Entry) Say(d Dialect) string {
	switch v := e.field(&d).(type) {
	case *bool:
		return fmt.Sprint(*v)
	case *int:
		return fmt.Sprint(*v)
	case *float64:
		return fmt.Sprint(*v)
	case *geom.Angle:
		return fmt.Sprintf("%.6g", v.Degrees())
	case *string:
		return *v
	default:
		panic(fmt.Sprintf("impossible: the table of dialects points to a %T", v))
	}
}

// Table is every key of a dialect but its name and the preset it starts from. A key has no
// default: what a file leaves out is as in that preset.
func Table() []Entry {
	return []Entry{
		flag("arcs_xy", "arcs in the plane XY (G17); else chords", func(d *Dialect) any { return &d.ArcsXY }),
		flag("arcs_zx", "arcs in the plane ZX (G18); else chords", func(d *Dialect) any { return &d.ArcsZX }),
		flag("helices", "arcs in the plane XY that rise or fall in Z; else chords", func(d *Dialect) any { return &d.Helices }),
		choice("arc_form", "arcs by their centre (I, J, K from the start) or by their radius (R)", func(d *Dialect) any { return (*string)(&d.ArcForm) }, string(ByCentre), string(ByRadius)),
		{document.Key{Name: "sweep_most", Meaning: "longest arc in one block; longer ones are parted", Kind: document.Angle, Min: 30, Max: 170}, func(d *Dialect) any { return &d.SweepMost }},
		count("decimals_mm", "decimals of a coordinate in millimetres", span{3, 6}, func(d *Dialect) any { return &d.DecimalsMM }),
		count("decimals_inch", "decimals of a coordinate in inches", span{4, 7}, func(d *Dialect) any { return &d.DecimalsInch }),
		choice("units", "what the control takes", func(d *Dialect) any { return (*string)(&d.Units) }, string(MillimetreOrInch), string(MillimetreOnly), string(InchOnly)),
		choice("unit_words", "the words for inches and millimetres", func(d *Dialect) any { return (*string)(&d.UnitWords) }, string(G20G21), string(G70G71)),
		flag("repeat_motion", "G0 to G3 stand in every block that moves; else where they change", func(d *Dialect) any { return &d.RepeatMotion }),
		flag("repeat_axes", "X, Y and Z stand in every block that moves; else those that change", func(d *Dialect) any { return &d.RepeatAxes }),
		flag("repeat_feed", "F stands in every fed block; else where it changes", func(d *Dialect) any { return &d.RepeatFeed }),
		count("line_most", "characters of the longest line, its end not counted", span{40, 252}, func(d *Dialect) any { return &d.LineMost }),
		choice("line_end", "what ends a line", func(d *Dialect) any { return (*string)(&d.LineEnd) }, string(LF), string(CRLF)),
		choice("comments", "how comments are marked", func(d *Dialect) any { return (*string)(&d.Comments) }, string(Parentheses), string(Semicolon), string(NoComments)),
		count("comment_most", "characters of the longest comment with its marks", span{20, 252}, func(d *Dialect) any { return &d.CommentMost }),
		count("block_number_step", "step of the block numbers (N); 0 for none", span{0, 1000}, func(d *Dialect) any { return &d.BlockNumbers.Step }),
		count("block_number_most", "greatest block number, after which they begin again", span{99, 99999}, func(d *Dialect) any { return &d.BlockNumbers.Most }),
		flag("percent", "a line of % before and after the program", func(d *Dialect) any { return &d.Percent }),
		count("program_number", "number (O) of the first program of a run, the next ones one higher each; 0 for none", span{0, 9000}, func(d *Dialect) any { return &d.ProgramNumber }),
		choice("end", "the word that ends a program", func(d *Dialect) any { return &d.End }, "M2", "M30"),
		choice("work_offset", "the coordinate system that zero is set in", func(d *Dialect) any { return &d.WorkOffset }, "none", "G54", "G55", "G56", "G57", "G58", "G59"),
		choice("path_mode", "a word that holds the control to the exact path", func(d *Dialect) any { return &d.PathMode }, "none", "G61", "G61.1"),
		choice("tool", "how a program asks for its cutter: not at all, by a stop (M0), or by a change (T and M6)", func(d *Dialect) any { return (*string)(&d.Tool) }, string(NoToolWords), string(ToolStop), string(ToolChange)),
		choice("dwell", "what the P word of a dwell (G4) counts", func(d *Dialect) any { return (*string)(&d.Dwell) }, string(NoDwell), string(DwellSeconds), string(DwellMilliseconds)),
		{document.Key{Name: "spindle_wait", Meaning: "dwell after the spindle is started, s", Kind: document.Number, Min: 0, Max: 60}, func(d *Dialect) any { return &d.SpindleWait }},
		flag("mist", "M7 switches mist on", func(d *Dialect) any { return &d.Mist }),
		flag("flood", "M8 switches flood on", func(d *Dialect) any { return &d.Flood }),
		flag("drill_cycle", "holes are drilled by the cycle G83; else move by move", func(d *Dialect) any { return &d.DrillCycle }),
		count("file_blocks_most", "lines that a file may have, comments counted; a longer program is written as several; 0 for no limit", span{0, 10_000_000}, func(d *Dialect) any { return &d.FileBlocksMost }),
		count("file_bytes_most", "the same in bytes", span{0, 1_000_000_000}, func(d *Dialect) any { return &d.FileBytesMost }),
	}
}

// span is the limits of a whole number.
type span struct{ least, most float64 }

func flag(name, meaning string, field func(*Dialect) any) Entry {
	return Entry{document.Key{Name: name, Meaning: meaning, Kind: document.Flag}, field}
}

func count(name, meaning string, s span, field func(*Dialect) any) Entry {
	return Entry{document.Key{Name: name, Meaning: meaning, Kind: document.Count, Min: s.least, Max: s.most}, field}
}

func choice(name, meaning string, field func(*Dialect) any, choices ...string) Entry {
	return Entry{document.Key{Name: name, Meaning: meaning, Kind: document.Choice, Choices: choices}, field}
}
