package words

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// signs are the signs of screens and equations as they are read aloud.
var signs = strings.NewReplacer(
	"≈", "about", "×", "x", "…", "...", "⅓", "1/3", "½", "1/2", "⅔", "2/3", "−", "-", "±", "give or take ",
	"→", "->", "–", "-", "°Bx", "Bx", "°Bé", "Be", "°P", "P", "°Oe", "Oe", "°", "",
	"₂", "2", "²", "2", "³", "3", "·", "unknown", "ρ", "rho", "γ", "gamma", "ń", "n",
)

// Aloud is a text without signs, to be read aloud or by a program: "about 20 C",
// "1/3". Letters of a person's own stay.
func Aloud(text string) string { return signs.Replace(text) }

// Sentences are parts that say something, each with its full stop.
func Sentences(parts ...string) string {
	var out []string
	for _, s := range parts {
		if s != "" {
			out = append(out, strings.TrimSuffix(s, ".")+".")
		}
	}
	return strings.Join(out, " ")
}

// Join is what says something, with a sign between.
func Join(between string, parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), between)
}

// Capital is a text that begins a sentence.
func Capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + s[size:]
}

// Spoken is a task in sentences: what, how much, until when, why, what frees it.
func (l Line) Spoken() string {
	head := l.Act
	if l.Alarm != nil {
		return Sentences(head, l.Alarm.Long, "It is over when "+l.Alarm.Ends)
	}
	if what := strings.TrimSpace(l.much()); what != "" {
		head += ": " + what
	}
	sentences := []string{head, Capital(l.First), Capital(l.Until)}
	if l.Stock != nil {
		sentences = append(sentences, "Or "+l.Stock.String()+" "+l.StockOf)
	}
	switch {
	case l.Reason == "":
	case l.Word != Stop && l.Word != Late && l.Word != Held && l.Word != Lapsed:
		sentences = append(sentences, Capital(l.Reason))
	default:
		sentences = append(sentences, "Why: "+l.Reason)
	}
	if l.Frees != "" {
		sentences = append(sentences, "Frees it: "+l.Frees)
	}
	if l.Instead != "" {
		sentences = append(sentences, "Do: "+l.Instead)
	}
	return Sentences(sentences...)
}

func (l Line) much() string {
	if l.Amount.Words != "" && l.Of != "" {
		return l.Amount.Words + ", " + l.Of
	}
	return l.Amount.String() + " " + l.Of
}
