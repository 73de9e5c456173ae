package vessel

import (
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/schedule/words"
)

// expected is the forecast in words: what may be said, and what is not said and
// why.
func (p *paper) expected() string {
	f, settings := p.forecast, p.vessel.Course.Settings
	if f.Says == forecast.OnItsWay && !f.Done.Late.IsZero() && f.Done.Late.Before(p.now) {
		return "near its finish since about " + words.Date(f.Done.At, p.now) + "; it may still fall a little, to " +
			words.Glass(f.Finish, settings) + " (" + words.Glass(f.Low, settings) + " to " + words.Glass(f.High, settings) + ")"
	}
	if f.Says != forecast.OnItsWay {
		return string(f.Says) + because(f.Why)
	}
	text := "on its way; if it goes on like this"
	for _, b := range f.Breaks {
		if b.Met.IsZero() && !b.Expected.At.IsZero() {
			text += ", the " + fraction(b) + " break about " + words.When(b.Expected.At, p.now) +
				", ±" + words.Age(b.Expected.Late.Sub(b.Expected.Early)/2)
			break
		}
	}
	if !f.Done.At.IsZero() {
		text += ", done between " + words.Date(f.Done.Early, p.now) + " and " + words.Date(f.Done.Late, p.now)
	}
	text += ", near " + words.Glass(f.Finish, settings) + " (" + words.Glass(f.Low, settings) + " to " + words.Glass(f.High, settings) + ")"
	if f.Why != "" {
		text += "; " + f.Why
	}
	return text
}

func because(why string) string {
	if why == "" {
		return ""
	}
	return ": " + why
}

func fraction(b forecast.Break) string {
	switch {
	case b.Of == 1 && b.In == 3:
		return "⅓"
	case b.Of == 1 && b.In == 2:
		return "½"
	}
	return "⅔"
}
