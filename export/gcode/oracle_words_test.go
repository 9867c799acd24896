package gcode_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// The oracle is a second evaluator of RS274/NGC programs, written from the
// standard without a look at the reader. It is slow and plain: a line becomes an
// oracleBlock here, and oracleMachine carries it out.

// oracleBlock holds the words of a line.
type oracleBlock struct {
	codes    []int            // ten times the number of each G word
	switches []int            // the M words
	word     map[byte]float64 // every other word, by its lower-case letter
	settings []oracleSetting  // in the order of the line
}

// oracleSetting is a value for a numbered parameter.
type oracleSetting struct {
	index int
	value float64
}

// has reports whether the block has one of the letters as a word.
func (b oracleBlock) has(letters string) bool {
	for i := range len(letters) {
		if _, there := b.word[letters[i]]; there {
			return true
		}
	}
	return false
}

const (
	oracleLineLimit     = 253    // characters: 256 in the text, but the reference interpreter takes no more
	oracleLastParameter = 5399   // NISTIR 6556, 3.2.1
	oracleInteger       = 0.0001 // how near an integer must be, 3.3.2.1
)

// oracleComment stands for a comment in a compacted line: it parts words.
const oracleComment = '\x01'

// oracleCompact drops blanks, puts a mark for each comment and lowers the case.
func oracleCompact(line string) (string, error) {
	var compact strings.Builder
	for line != "" {
		if line[0] == '(' {
			end := strings.IndexByte(line, ')')
			if end < 0 || strings.Contains(line[1:end], "(") {
				return "", fmt.Errorf("a comment is not closed, or nested")
			}
			compact.WriteByte(oracleComment)
			line = line[end+1:]
			continue
		}
		if line[0] != ' ' && line[0] != '\t' {
			compact.WriteByte(line[0])
		}
		line = line[1:]
	}
	return strings.ToLower(compact.String()), nil
}

// oracleScanner reads a compacted line from left to right.
type oracleScanner struct {
	rest       string
	parameters map[int]float64
}

// take consumes a prefix if it comes next.
func (s *oracleScanner) take(prefix string) bool {
	rest, found := strings.CutPrefix(s.rest, prefix)
	s.rest = rest
	return found
}

var (
	oracleLineNumber = regexp.MustCompile(`^n(\d{1,5})`)
	oracleNumber     = regexp.MustCompile(`^[+-]?(\d+(\.\d*)?|\.\d+)`)
)

// oracleParse reads the words of a line.
func oracleParse(line string, parameters map[int]float64) (oracleBlock, error) {
	block := oracleBlock{word: map[byte]float64{}}
	if len(line) > oracleLineLimit {
		return block, fmt.Errorf("the line is too long")
	}
	// The switch for optional blocks is off: they are carried out. Blanks before the
	// slash mean no more than elsewhere.
	line = strings.TrimPrefix(strings.TrimLeft(line, " \t"), "/")
	compact, err := oracleCompact(line)
	if err != nil {
		return block, err
	}
	s := &oracleScanner{compact, parameters}
	s.rest = s.rest[len(oracleLineNumber.FindString(s.rest)):]
	for s.rest != "" {
		if s.take(string(oracleComment)) {
			continue
		}
		if err := s.item(&block); err != nil {
			return block, err
		}
	}
	return block, nil
}

// item reads one word or setting into a block.
func (s *oracleScanner) item(block *oracleBlock) error {
	letter := s.rest[0]
	s.rest = s.rest[1:]
	if letter == '#' {
		return s.setting(block)
	}
	if !strings.ContainsRune("abcdfghijklmpqrstxyz", rune(letter)) {
		return fmt.Errorf("no word begins with %q", letter)
	}
	value, err := s.value()
	if err != nil {
		return err
	}
	switch letter {
	case 'g':
		code, err := oracleWhole(10 * value)
		block.codes = append(block.codes, code)
		return err
	case 'm':
		code, err := oracleWhole(value)
		block.switches = append(block.switches, code)
		return err
	}
	if block.has(string(letter)) {
		return fmt.Errorf("two words %c", letter)
	}
	block.word[letter] = value
	return nil
}

// setting reads what follows the # of "#index=value".
func (s *oracleScanner) setting(block *oracleBlock) error {
	index, err := s.index()
	if err != nil {
		return err
	}
	if !s.take("=") {
		return fmt.Errorf("no = in a setting")
	}
	value, err := s.value()
	block.settings = append(block.settings, oracleSetting{index, value})
	return err
}

// index reads the number of a parameter.
func (s *oracleScanner) index() (int, error) {
	value, err := s.value()
	if err != nil {
		return 0, err
	}
	index, err := oracleWhole(value)
	if err == nil && (index < 1 || index > oracleLastParameter) {
		err = fmt.Errorf("there is no parameter %d", index)
	}
	return index, err
}

// value reads a number, an expression, a parameter or a function.
func (s *oracleScanner) value() (float64, error) {
	if s.take("#") {
		index, err := s.index()
		return s.parameters[index], err
	}
	if strings.HasPrefix(s.rest, "[") {
		return s.bracket()
	}
	if s.rest != "" && s.rest[0] >= 'a' && s.rest[0] <= 'z' {
		return s.function()
	}
	digits := oracleNumber.FindString(s.rest)
	s.rest = s.rest[len(digits):]
	return strconv.ParseFloat(digits, 64) // no digits are an error there
}

// bracket reads an expression in its brackets.
func (s *oracleScanner) bracket() (float64, error) {
	if !s.take("[") {
		return 0, fmt.Errorf("no [")
	}
	value, err := s.binary(0)
	if err != nil {
		return 0, err
	}
	if !s.take("]") {
		return 0, fmt.Errorf("no ]")
	}
	return value, nil
}

// oracleOperators lists the binary operations, the loosest first.
var oracleOperators = [][]string{{"+", "-", "or", "xor", "and"}, {"*", "/", "mod"}, {"**"}}

// operator takes an operator of a level if one comes next.
func (s *oracleScanner) operator(level int) string {
	if level == 1 && strings.HasPrefix(s.rest, "**") {
		return ""
	}
	for _, operator := range oracleOperators[level] {
		if s.take(operator) {
			return operator
		}
	}
	return ""
}

// binary reads operations of a level and of the tighter ones.
func (s *oracleScanner) binary(level int) (float64, error) {
	if level == len(oracleOperators) {
		return s.value()
	}
	left, err := s.binary(level + 1)
	for err == nil {
		operator := s.operator(level)
		if operator == "" {
			break
		}
		var right float64
		if right, err = s.binary(level + 1); err == nil {
			left, err = oracleBinary(operator, left, right)
		}
	}
	return left, err
}

// oracleBinary carries out one operation.
func oracleBinary(operator string, a, b float64) (float64, error) {
	logical := map[string]bool{
		"or": a != 0 || b != 0, "and": a != 0 && b != 0, "xor": (a != 0) != (b != 0),
	}
	if holds, there := logical[operator]; there {
		if holds {
			return 1, nil
		}
		return 0, nil
	}
	result := 0.0
	switch operator {
	case "+":
		result = a + b
	case "-":
		result = a - b
	case "*":
		result = a * b
	case "/":
		result = a / b
	case "**":
		result = math.Pow(a, b)
	case "mod":
		if result = math.Mod(a, b); result < 0 {
			result += math.Abs(b)
		}
	}
	return result, oracleFinite(result)
}

// function reads a function and its argument; angles are degrees.
func (s *oracleScanner) function() (float64, error) {
	const degree = math.Pi / 180
	functions := map[string]func(float64) float64{
		"abs": math.Abs, "exp": math.Exp, "fix": math.Floor, "fup": math.Ceil,
		"ln": math.Log, "round": math.Round, "sqrt": math.Sqrt,
		"sin":  func(x float64) float64 { return math.Sin(x * degree) },
		"cos":  func(x float64) float64 { return math.Cos(x * degree) },
		"tan":  func(x float64) float64 { return math.Tan(x * degree) },
		"asin": func(x float64) float64 { return math.Asin(x) / degree },
		"acos": func(x float64) float64 { return math.Acos(x) / degree },
	}
	if s.take("atan") {
		return s.arcTangent()
	}
	for name, function := range functions {
		if s.take(name) {
			argument, err := s.bracket()
			if err != nil {
				return 0, err
			}
			return function(argument), oracleFinite(function(argument))
		}
	}
	return 0, fmt.Errorf("no such function")
}

// arcTangent reads the [y]/[x] of an atan.
func (s *oracleScanner) arcTangent() (float64, error) {
	y, err := s.bracket()
	if err != nil {
		return 0, err
	}
	if !s.take("/") {
		return 0, fmt.Errorf("atan has one argument")
	}
	x, err := s.bracket()
	return math.Atan2(y, x) * 180 / math.Pi, err
}

// oracleFinite refuses what has no value.
func oracleFinite(value float64) error {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return fmt.Errorf("the operation has no value")
	}
	return nil
}

// oracleWhole returns the integer that a value stands for.
func oracleWhole(value float64) (int, error) {
	whole := math.Round(value)
	if math.Abs(value-whole) > oracleInteger {
		return 0, fmt.Errorf("%v is not an integer", value)
	}
	return int(whole), nil
}
