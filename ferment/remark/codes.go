package remark

import (
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
)

// codesTwice are the codes that stand on bottles of two fillings.
func codesTwice(fs []ferment.Ferment) []ferment.Problem {
	type place struct {
		file string
		line int
	}
	first := map[string]place{}
	var found []ferment.Problem
	for _, f := range fs {
		for _, e := range f.Log {
			for _, b := range e.Bottles {
				for _, code := range codesOf(b.Codes) {
					key := strings.ToLower(code)
					had, taken := first[key]
					if !taken {
						first[key] = place{f.File, e.Line}
						continue
					}
					found = append(found, on(f.File, e.Line, "the bottle code %q is that of %s:%d too (give each bottle its own, e.g. codes: BH-A 1-8)", code, had.file, had.line))
					break // of one filling the first tells
				}
			}
		}
	}
	return found
}

// aRange is the end of a code that counts several bottles: "BH-A 1-8".
var aRange = ferment.Pattern(`^(.*?)([0-9]{1,4}) ?[-–] ?([0-9]{1,4})$`)

// codesOf are the codes that a text means: "BH-A 1-3, 7" are four.
func codesOf(text string) []string {
	var codes []string
	prefix := ""
	for _, part := range strings.Split(text, ",") {
		part = strings.TrimSpace(part)
		m := aRange().FindStringSubmatch(part)
		switch {
		case part == "":
		case m != nil && number(m[2]) <= number(m[3]):
			if m[1] != "" {
				prefix = m[1]
			}
			for n := number(m[2]); n <= number(m[3]); n++ {
				codes = append(codes, prefix+strconv.Itoa(n))
			}
		case strings.Trim(part, "0123456789") == "":
			codes = append(codes, prefix+part)
		default:
			prefix = strings.TrimRight(part, "0123456789")
			codes = append(codes, part)
		}
	}
	return codes
}

func number(digits string) int {
	n, _ := strconv.Atoi(digits) // at most four of them
	return n
}
