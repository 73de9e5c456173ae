package export

import (
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
)

// number is a figure as every spreadsheet reads it, without zeros that say
// nothing.
func number[T ~float64](v T, places int) string {
	text := strconv.FormatFloat(float64(v), 'f', places, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

// aNumber is what a spreadsheet may take for a number and no more.
var aNumber = ferment.Pattern(`^-?[0-9]+([.,][0-9]+)?$`)

// cell is a text as a spreadsheet shows it and never works it out: where it
// begins like a formula it gets an apostrophe, which spreadsheets take as the
// sign of a text. Numbers stay numbers, negative ones too. What a terminal would
// obey is left out; line ends stay.
func cell(text string) string {
	text = strings.Join(lines(text), "\n")
	if begins := strings.TrimLeft(text, " "); begins != "" && !aNumber().MatchString(text) &&
		strings.ContainsRune("=+-−@＝＋－＠", []rune(begins)[0]) {
		return "'" + text
	}
	return text
}
