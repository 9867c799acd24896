package gcode

import (
	"math"
)

// setting is a parameter that a line sets.
type setting struct {
	number int
	value  float64
}

// Parameters are numbered from 1 to 5399.
const lastParameter = 5399

// deepest bounds how deep expressions may stand inside each other: far beyond what a
// line has room for.
const deepest = 130

func (l *lexer) parameterNumber() (int, error) {
	l.at++ // the #
	v, err := l.realValue()
	if err != nil {
		return 0, err
	}
	n, ok := whole(v)
	if !ok || n < 1 || n > lastParameter {
		l.at--
		return 0, l.fail("parameters are numbered 1 to 5399", "3.3.2.2")
	}
	return n, nil
}

func (l *lexer) parameter() (float64, error) {
	n, err := l.parameterNumber()
	if err != nil {
		return 0, err
	}
	return l.m.parameters[n], nil
}

// setting takes a parameter setting; it takes effect when the whole line is read.
func (l *lexer) setting(b *block) error {
	n, err := l.parameterNumber()
	if err != nil {
		return err
	}
	if l.peek() != '=' {
		return l.fail("a parameter setting needs an equals sign", "3.3.3")
	}
	l.at++
	v, err := l.realValue()
	if err != nil {
		return err
	}
	b.settings = append(b.settings, setting{n, v})
	return nil
}

// operators of expressions and how strongly they bind.
func (l *lexer) operator() (name string, strength int, ok bool) {
	for _, o := range []struct {
		name     string
		strength int
	}{{"**", 3}, {"*", 2}, {"/", 2}, {"MOD", 2}, {"+", 1}, {"-", 1}, {"OR", 1}, {"XOR", 1}, {"AND", 1}} {
		if l.next(o.name) {
			return o.name, o.strength, true
		}
	}
	return "", 0, false
}

// next takes a word of letters or signs if it stands here.
func (l *lexer) next(text string) bool {
	at := l.at
	for i := range len(text) {
		if l.peek() != text[i] {
			l.at = at
			return false
		}
		l.at++
	}
	return true
}

// expression takes what stands between brackets.
func (l *lexer) expression(depth int) (float64, error) {
	if depth > deepest {
		return 0, l.fail("expressions stand too deep inside each other", "3.3.2.3")
	}
	l.at++ // the [
	v, err := l.operand(depth)
	if err != nil {
		return 0, err
	}
	type pending struct {
		value    float64
		name     string
		strength int
	}
	var stack []pending
	for {
		if l.peek() == ']' {
			for i := len(stack) - 1; i >= 0; i-- {
				if v, err = l.apply(stack[i].name, stack[i].value, v); err != nil {
					return 0, err
				}
			}
			l.at++
			return v, nil
		}
		name, strength, ok := l.operator()
		if !ok {
			return 0, l.fail("an operator or ] is missing here", "3.3.2.3")
		}
		for len(stack) > 0 && stack[len(stack)-1].strength >= strength {
			top := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			if v, err = l.apply(top.name, top.value, v); err != nil {
				return 0, err
			}
		}
		stack = append(stack, pending{v, name, strength})
		if v, err = l.operand(depth); err != nil {
			return 0, err
		}
	}
}

func (l *lexer) operand(depth int) (float64, error) {
	if l.peek() == '[' {
		return l.expression(depth + 1)
	}
	return l.realValue()
}

func (l *lexer) apply(name string, a, b float64) (float64, error) {
	truth := func(t bool) float64 {
		if t {
			return 1
		}
		return 0
	}
	v := 0.0
	switch name {
	case "**":
		if a < 0 && b != math.Trunc(b) {
			return 0, l.fail("a negative number has no broken power", "3.3.2.3")
		}
		v = math.Pow(a, b)
	case "*":
		v = a * b
	case "/":
		if b == 0 {
			return 0, l.fail("nothing can be divided by 0", "3.3.2.3")
		}
		v = a / b
	case "MOD":
		if b == 0 {
			return 0, l.fail("nothing can be divided by 0", "3.3.2.3")
		}
		if v = math.Mod(a, b); v < 0 {
			v += math.Abs(b)
		}
	case "+":
		v = a + b
	case "-":
		v = a - b
	case "OR":
		v = truth(a != 0 || b != 0)
	case "XOR":
		v = truth((a != 0) != (b != 0))
	case "AND":
		v = truth(a != 0 && b != 0)
	}
	return l.finite(v)
}

func (l *lexer) finite(v float64) (float64, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, l.fail("the result is no number", "3.3.2.3")
	}
	return v, nil
}

// unary takes a function and its argument in brackets; angles are in degrees.
func (l *lexer) unary() (float64, error) {
	for _, name := range []string{"ABS", "ACOS", "ASIN", "ATAN", "COS", "EXP", "FIX", "FUP", "LN", "ROUND", "SIN", "SQRT", "TAN"} {
		if !l.next(name) {
			continue
		}
		if l.peek() != '[' {
			return 0, l.fail("a function's argument stands in brackets", "3.3.2.4")
		}
		v, err := l.expression(0)
		if err != nil {
			return 0, err
		}
		if name == "ATAN" {
			return l.arcTangent(v)
		}
		return l.function(name, v)
	}
	return 0, l.fail("a number is missing here", "3.3.2.1")
}

func (l *lexer) arcTangent(v float64) (float64, error) {
	if l.peek() != '/' {
		return 0, l.fail("ATAN needs a second argument, after a slash", "3.3.2.4")
	}
	l.at++
	if l.peek() != '[' {
		return 0, l.fail("a function's argument stands in brackets", "3.3.2.4")
	}
	w, err := l.expression(0)
	return math.Atan2(v, w) * 180 / math.Pi, err
}

func (l *lexer) function(name string, v float64) (float64, error) {
	const degree = math.Pi / 180
	switch name {
	case "ABS":
		v = math.Abs(v)
	case "ACOS", "ASIN":
		if math.Abs(v) > 1 {
			return 0, l.fail("the argument must lie between -1 and 1", "3.3.2.4")
		}
		if name == "ACOS" {
			v = math.Acos(v) / degree
		} else {
			v = math.Asin(v) / degree
		}
	case "COS":
		v = math.Cos(v * degree)
	case "EXP":
		v = math.Exp(v)
	case "FIX":
		v = math.Floor(v)
	case "FUP":
		v = math.Ceil(v)
	case "LN":
		if v <= 0 {
			return 0, l.fail("the argument must be greater than 0", "3.3.2.4")
		}
		v = math.Log(v)
	case "ROUND":
		v = math.Round(v)
	case "SIN":
		v = math.Sin(v * degree)
	case "SQRT":
		if v < 0 {
			return 0, l.fail("the argument must not be negative", "3.3.2.4")
		}
		v = math.Sqrt(v)
	case "TAN":
		v = math.Tan(v * degree)
	}
	return l.finite(v)
}
