package line

import "strings"

// saying is what people type in words of their own, and what it means in those of the
// line. A # is a number.
type saying struct{ said, means string }

var sayings = []saying{
	{"smells of rotten eggs", "smell=rotten eggs"}, {"smell of rotten eggs", "smell=rotten eggs"},
	{"rotten eggs", "smell=rotten eggs"}, {"rotten egg", "smell=rotten eggs"},
	{"foamed over", "foam-over"}, {"foam over", "foam-over"},
	{"airlock dry", "airlock=dry"}, {"dry airlock", "airlock=dry"},
	{"no bubbles", "airlock=still"}, {"bubbles", "airlock=working"}, {"bubbling", "airlock=working"},
	{"refractometer #", "#r"}, {"# refractometer", "#r"},
}

// meant returns the words with what is said in other ones put into those of the line.
func meant(words []part) []part {
	var out []part
	for len(words) > 0 {
		p, n := words[0], 1
		for _, s := range sayings {
			if means, is := s.in(words); is {
				p.text, n = means, len(strings.Fields(s.said))
				break
			}
		}
		out, words = append(out, p), words[n:]
	}
	return out
}

func (s saying) in(words []part) (means string, is bool) {
	said := strings.Fields(s.said)
	if len(said) > len(words) {
		return "", false
	}
	means = s.means
	for i, want := range said {
		switch got := words[i].text; {
		case want == "#" && leadingNumber().FindString(got) == got:
			means = strings.Replace(means, "#", got, 1)
		case !strings.EqualFold(want, got):
			return "", false
		}
	}
	return means, true
}
