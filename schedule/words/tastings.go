package words

import (
	"math"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
)

// tastings line up what was tasted by whole months since bottling, or since the
// pitch where nothing is bottled.
func tastings(vs []app.Vessel) []Compared {
	var rows []Compared
	for i, v := range vs {
		from := v.Course.Pitch.At
		if b, ok := v.Course.First(ferment.Bottle); ok {
			from = b.At.Time
		}
		for _, e := range v.Course.Entries {
			if e.Did == ferment.Taste {
				rows = noted(rows, Months(from, e.At.Time), i, len(vs), tasted(e))
			}
		}
	}
	return rows
}

func noted(rows []Compared, age string, i, n int, text string) []Compared {
	for r := range rows {
		if rows[r].Name == age {
			rows[r].Values[i] = text
			return rows
		}
	}
	row := Compared{Name: age, Values: make([]string, n)}
	for j := range row.Values {
		row.Values[j] = Unknown
	}
	row.Values[i] = text
	return append(rows, row)
}

func tasted(e *ferment.Entry) string {
	var parts []string
	if e.Taste.Score.Known() {
		parts = append(parts, measure.Decimal(e.Taste.Score.Value, 0))
	}
	for _, t := range []string{e.Taste.Found(), ferment.Harmless(e.Note)} {
		if t != "" {
			parts = append(parts, t)
		}
	}
	return strings.Join(parts, ", ")
}

// Months is an age in whole months: "12 months".
func Months(from, to time.Time) string {
	return Plural(int(math.Round(to.Sub(from).Hours()/24/30.4)), "month")
}
