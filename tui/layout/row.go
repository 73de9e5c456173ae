package layout

import "strings"

// Row is one row of a screen being filled from the left, in columns counted
// from 0. Texts may carry colours. The zero Row is empty.
type Row struct{ text string }

// At puts a text into a column. Where that column is taken already the text
// follows after one space.
func (r Row) At(column int, text string) Row {
	if text == "" {
		return r
	}
	have := Width(r.text)
	if have > column {
		column = have + 1
	}
	return Row{r.text + spaces(column-have) + text}
}

// Until puts a text so that it ends before a column. What stands in its way is
// cut, two columns before it.
func (r Row) Until(column int, text string) Row {
	if text == "" {
		return r
	}
	from := column - Width(text)
	if Width(r.text) > from-2 {
		r.text = Cut(r.text, from-2)
	}
	return r.At(max(from, 0), text)
}

// End is the column after the last text.
func (r Row) End() int { return Width(r.text) }

// Fits tells whether a text that ends before a column leaves two columns
// before it.
func (r Row) Fits(column int, text string) bool {
	return text == "" || r.End()+2 <= column-Width(text)
}

// In is the row in at most w columns, an ellipsis where it was cut.
func (r Row) In(w int) string { return strings.TrimRight(Cut(r.text, w), " ") }

// Point splits a number at its decimal sign, so that numbers can be lined up
// at it, also where there is none.
func Point(number string) (before, after string) {
	i := strings.IndexByte(number, '.')
	if i < 0 {
		return number, ""
	}
	return number[:i], number[i:]
}

// AtPoint puts a number so that its decimal sign stands, or would stand, in a
// column. Set writes it.
func (r Row) AtPoint(column int, number string, set func(string) string) Row {
	before, _ := Point(number)
	return r.At(column-Width(before), set(number))
}

// Lead puts a text over the blanks that a row begins with.
func Lead(lead, row string) string {
	n := Width(lead)
	if blanks := len(row) - len(strings.TrimLeft(row, " ")); blanks >= n {
		return lead + row[n:]
	}
	return strings.TrimRight(lead+" "+strings.TrimLeft(row, " "), " ")
}
