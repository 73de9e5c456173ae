package form

import (
	"testing"

	"cellar/jugkeeper/ferment"
)

// BenchmarkOutcome is one key in a form: fields and outcome.
func BenchmarkOutcome(b *testing.B) {
	s := cellar(77, strong, lime("lime-a", tested, ends(ferment.Still, ferment.BottleConditioned)), lime("heath", atRest))
	for name, form := range map[string]Form{"bottle": Bottle(s, s.Vessels[0], nil), "rack": Rack(s, s.Vessels[0], Values{"what": "into two", "part": "1 L", "after": "2 L"})} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				form.Outcome(nil)
			}
		})
	}
}
