package words

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// ShelfCard is the details of a batch.
type ShelfCard struct {
	How      string // "conditioned in the bottle with 3.0 g of honey each; the crate by the stair, 19 °C"
	Kinds    string // "10 × 330 mL crown beer bottle; G 1, G 3"
	Openings []Opening
	Soft     string // "firm"; empty where nobody squeezed it
	SoftOn   string // "on Sat 3 Oct"
	Expected string // "2.4 bar at 20 °C, 3.7 bar at 30 °C; the bottle stands 6.0 bar"
	Caution  Line   // its word and its reason; the zero Line for none
}

// Opening is a bottle that was opened, in words.
type Opening struct {
	When   string // "Sun 27 Sep, 7 d"
	Hiss   string
	Foam   string
	Palate string
}

func shelfCard(v app.Vessel, stock shelf.Shelf, i int, now time.Time) ShelfCard {
	b := stock.Batches[i]
	card := ShelfCard{How: howOf(v, stock, b), Kinds: kindsOf(b, v.Course.Settings.Units), Expected: expectedOf(v, b)}
	if c := schedule.BottledCaution(v.Course, stock, i); c != nil {
		card.Caution = Line{Word: Word(c.Loud), Reason: c.Text, Danger: c.Loud == schedule.Stop}
	}
	for _, o := range stock.Openings(i) {
		said := Opening{When: Date(o.At, now) + ", " + fmt.Sprintf("%d d", o.Days), Hiss: Unknown, Foam: Unknown, Palate: o.Palate}
		if o.Hiss.Known() {
			said.Hiss = o.Hiss.Text
		}
		if o.Foam.Known() {
			said.Foam = measure.Shown(o.Foam, v.Course.Settings.Units)
		}
		card.Openings = append(card.Openings, said)
	}
	if f, felt := shelf.FeltLast(v.Course, b.At); felt && !b.Still() {
		card.Soft, card.SoftOn = f.Feel, "on "+Date(f.At, now)
	}
	return card
}

func howOf(v app.Vessel, stock shelf.Shelf, b shelf.Batch) string {
	text := "still"
	if v.Ferment.EndsAs(ferment.Sweetened) {
		text += ", stabilised and sweetened"
	}
	if !b.Still() {
		text = "conditioned in the bottle" + sugarOf(v, b)
	}
	place, at := stock.Standing(v.Course)
	warmth := ""
	if at.Known() {
		warmth = measure.Between(at.Value, v.Course.Settings.Units)
	}
	return Join("; ", text, Join(", ", place, warmth))
}

func sugarOf(v app.Vessel, b shelf.Batch) string {
	var each []string
	for _, l := range b.Lines {
		if l.As.Honey.Known() && !slices.Contains(each, l.As.Honey.Value.In(v.Course.Settings.Units)) {
			each = append(each, l.As.Honey.Value.In(v.Course.Settings.Units))
		}
	}
	if len(each) > 0 {
		return " with " + strings.Join(each, " or ") + " of honey each"
	}
	if e, primed := v.Course.Last(ferment.Prime); primed && e.Amount.Known() {
		return ", primed with " + e.Amount.Quantity.In(v.Course.Settings.Units)
	}
	return ""
}

// kindsOf returns the bottles that are left by kind, and their codes.
func kindsOf(b shelf.Batch, units measure.System) string {
	var said []string
	for _, l := range b.Lines {
		if !l.Left.Some() {
			continue
		}
		text := l.Left.String() + " ×"
		if l.As.Size.Known() {
			text += " " + measure.AsTyped(l.As.Size, units)
		}
		if l.As.Kind != "" {
			text += " " + l.As.Kind
		}
		if len(l.Codes) > 0 {
			among := map[bool]string{true: "of "}[!l.Left.Unknown && len(l.Codes) > l.Left.N] // some went without a word of which
			text += " (" + among + strings.Join(runs(l.Codes), ", ") + ")"
		}
		said = append(said, text)
	}
	return strings.Join(said, "; ")
}

// runs returns codes with those that follow one another taken together: "G 1-3".
func runs(codes []string) []string {
	var out []string
	for i := 0; i < len(codes); {
		j := i
		for j+1 < len(codes) && slices.Equal(shelf.Codes(codes[i]+"-"+number(codes[j+1])), codes[i:j+2]) {
			j++
		}
		if j > i+1 {
			out, i = append(out, codes[i]+"-"+number(codes[j])), j+1
			continue
		}
		out, i = append(out, codes[i]), i+1
	}
	return out
}

func number(code string) string {
	return code[len(strings.TrimRight(code, "0123456789")):]
}

func expectedOf(v app.Vessel, b shelf.Batch) string {
	p, s := shelf.PressureOf(v.Course, b), v.Course.Settings
	if !p.IsKnown() {
		return "cannot tell: " + p.Unknown
	}
	bar := func(p measure.Pressure) string { return p.In(s.Units) }
	text := fmt.Sprintf("%s at %s, %s at %s", bar(p.Value.At20), measure.Temperature(20).In(s.Units), bar(p.Value.Hottest), s.Hottest.In(s.Units))
	switch {
	case b.Still():
		return text
	case !p.Value.Strain.IsKnown():
		return text + "; " + p.Value.Strain.Unknown
	}
	strain := p.Value.Strain.Value
	text += "; the bottle is made for " + bar(strain.Stands)
	if !strain.Bottle.Rated.Known() {
		text += " of CO₂, of which there are " + bar(strain.Alone())
	}
	return text
}
