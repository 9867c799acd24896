package gcode_test

import (
	"fmt"
	"math"
	"slices"
)

// oracleGroups gives the modal group of each G word, by ten times its number:
// NISTIR 6556, table 4.
var oracleGroups = map[int]int{
	40: 0, 100: 0, 280: 0, 300: 0, 530: 0, 920: 0, 921: 0, 922: 0, 923: 0,
	0: 1, 10: 1, 20: 1, 30: 1, 382: 1, 800: 1, 810: 1, 820: 1, 830: 1, 840: 1, 850: 1,
	860: 1, 870: 1, 880: 1, 890: 1,
	170: 2, 180: 2, 190: 2, 900: 3, 910: 3, 930: 5, 940: 5, 200: 6, 210: 6,
	400: 7, 410: 7, 420: 7, 430: 8, 490: 8, 980: 10, 990: 10,
	540: 12, 550: 12, 560: 12, 570: 12, 580: 12, 590: 12, 591: 12, 592: 12, 593: 12,
	610: 13, 611: 13, 640: 13,
}

// oracleSwitchGroups gives the modal group of each M word.
var oracleSwitchGroups = map[int]int{
	0: 4, 1: 4, 2: 4, 30: 4, 60: 4, 6: 6, 3: 7, 4: 7, 5: 7, 7: 8, 8: 8, 9: 8, 48: 9, 49: 9,
}

// oracleSlots is the number of tool slots. The standard leaves it to the machine; the
// reader has this many.
const oracleSlots = 128

// oracleUsers lists the codes that use a letter, those of cycles apart.
var oracleUsers = map[byte][]int{
	'd': {410, 420}, 'h': {430}, 'i': {20, 30, 870}, 'j': {20, 30, 870}, 'k': {20, 30, 870},
	'l': {100}, 'p': {40, 100, 820, 860, 880, 890}, 'q': {830}, 'r': {20, 30},
}

// oracleIsCycle reports whether a code is a canned cycle.
func oracleIsCycle(code int) bool { return code >= 810 && code <= 890 }

// check looks for what is wrong with a line whatever the state of the machine, and
// returns the code of its motion, or oracleNoMode.
func (m *oracleMachine) check(block oracleBlock) (int, error) {
	if err := oracleCheckGroups(block); err != nil {
		return 0, err
	}
	for letter, value := range block.word {
		_, err := oracleWhole(value)
		whole := slices.Contains([]byte("dhlt"), letter)
		if whole && err != nil || value < 0 && slices.Contains([]byte("dfhlpqst"), letter) {
			return 0, fmt.Errorf("%c%v is out of its range", letter, value)
		}
	}
	if block.word['t'] > oracleSlots || block.word['h'] > oracleSlots || block.word['d'] > oracleSlots {
		return 0, fmt.Errorf("there is no such slot")
	}
	move, err := m.moveOf(block)
	if err != nil {
		return 0, err
	}
	users := append([]int{move}, block.codes...)
	for letter, codes := range oracleUsers {
		used := slices.ContainsFunc(users, func(code int) bool {
			return slices.Contains(codes, code) ||
				oracleIsCycle(code) && code == move && (letter == 'l' || letter == 'r')
		})
		if block.has(string(letter)) && !used {
			return 0, fmt.Errorf("nothing uses the word %c", letter)
		}
	}
	return move, oracleCheckNeeds(block, move)
}

// oracleCheckGroups looks for unknown codes and for two of a group.
func oracleCheckGroups(block oracleBlock) error {
	seen := map[int]bool{}
	for _, code := range block.codes {
		group, known := oracleGroups[code]
		if !known || seen[group] {
			return fmt.Errorf("the code %d is unknown or the second of its group", code)
		}
		seen[group] = true
	}
	clear(seen)
	for _, code := range block.switches {
		group, known := oracleSwitchGroups[code]
		if !known || seen[group] {
			return fmt.Errorf("M%d is unknown or the second of its group", code)
		}
		seen[group] = true
	}
	if len(block.switches) > 4 {
		return fmt.Errorf("more than four M words")
	}
	return nil
}

// moveOf returns the motion that a line does, whether by a word of its own or by
// the mode in force.
func (m *oracleMachine) moveOf(block oracleBlock) (int, error) {
	axes := block.has("xyz")
	takesAxes := false
	for _, code := range block.codes {
		takesAxes = takesAxes || slices.Contains([]int{100, 280, 300, 920}, code)
	}
	for _, code := range block.codes {
		if oracleGroups[code] != 1 {
			continue
		}
		// G80 uses no axis words: it may stand beside a code that does.
		if code == oracleNoMode && takesAxes {
			return code, nil
		}
		if takesAxes || axes == (code == oracleNoMode) {
			return 0, fmt.Errorf("axis words: too few, too many or for two codes")
		}
		return code, nil
	}
	if takesAxes || !axes {
		return oracleNoMode, nil
	}
	if m.mode == oracleNoMode {
		return 0, fmt.Errorf("axis words without a code to use them")
	}
	return m.mode, nil
}

// oracleCheckNeeds looks for words that a code needs.
func oracleCheckNeeds(block oracleBlock, move int) error {
	for _, code := range block.codes {
		missing := false
		switch code {
		case 40:
			missing = !block.has("p")
		case 100:
			system, err := oracleWhole(block.word['p'])
			missing = math.Round(block.word['l']) != 2 || err != nil || system < 1 || system > 9
		case 430:
			missing = !block.has("h")
		case 530:
			missing = move != 0 && move != 10
		case 920:
			missing = !block.has("xyz")
		}
		if missing {
			return fmt.Errorf("the code %d lacks a word", code)
		}
	}
	return nil
}
