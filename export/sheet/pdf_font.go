package sheet

import (
	"encoding/binary"
	"fmt"
)

// withoutTime takes out of a font when it was written, which the library puts there: its
// table head then says that it was changed when it was made (OpenType specification,
// table head; sums of tables).
func withoutTime(font []byte) error {
	const record, headLength = 16, 54
	if len(font) < 12 {
		return fmt.Errorf("a font of %d bytes cannot be", len(font))
	}
	tables := int(binary.BigEndian.Uint16(font[4:]))
	for i := range tables {
		at := 12 + i*record
		if len(font) < at+record {
			break
		}
		start := int(binary.BigEndian.Uint32(font[at+8:]))
		if string(font[at:at+4]) != "head" || len(font) < start+headLength {
			continue
		}
		head := font[start : start+headLength]
		copy(head[28:36], head[20:28]) // modified, created
		binary.BigEndian.PutUint32(head[8:], 0)
		binary.BigEndian.PutUint32(font[at+4:], sum32(head))
		const whole = 0xB1B0AFBA
		binary.BigEndian.PutUint32(head[8:], whole-sum32(font))
		return nil
	}
	return fmt.Errorf("the font has no table head")
}

// sum32 adds up the words of four bytes, the last filled up with zeros.
func sum32(data []byte) (sum uint32) {
	for len(data) >= 4 {
		sum += binary.BigEndian.Uint32(data)
		data = data[4:]
	}
	var last [4]byte
	copy(last[:], data)
	return sum + binary.BigEndian.Uint32(last[:])
}
