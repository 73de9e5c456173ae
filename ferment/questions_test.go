package ferment_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
)

// TestEveryQuestionIsAKey: every question is a key of the entry line, every answer a value of it, and no observation is
// answered beforehand.
func TestEveryQuestionIsAKey(t *testing.T) {
	for _, act := range ferment.Map(ferment.ActNames(), func(name string) ferment.Act { return ferment.Act(name) }) {
		for _, ofCulture := range []bool{false, true} {
			for _, q := range ferment.Questions(act, ofCulture) {
				if len(q.Answers) == 0 {
					assert.LessOrEqual(t, len([]rune(q.Hint)), 38, "%s: %q has no room at 80 columns", act, q.Hint)
				}
				k, known := ferment.KeyNamed(q.Key)
				if !assert.True(t, known && k.OnLine(), "%s: %s", act, q.Key) {
					continue
				}
				assert.LessOrEqual(t, len(q.Label), 9, q.Label)
				for _, a := range q.Answers {
					var e ferment.Entry
					if a.Value != "" {
						assert.NoError(t, k.Set(&e, a.Value, time.UTC), "%s: %s", act, a.Word)
					}
				}
			}
		}
	}
}

func TestAnswered(t *testing.T) {
	look := ferment.Questions(ferment.Look, true)
	for _, c := range []struct {
		answers [4]string
		want    string
	}{
		{[4]string{"yes", "yes", "none", "clean"}, "seen=gas,sediment smell=clean"},
		{[4]string{"no", "no", "none", "sour"}, "smell=sour"},
		{[4]string{"", "", "some", ""}, "seen=mould"},
		{[4]string{}, ""},
	} {
		assert.Equal(t, c.want, ferment.Answered(look, c.answers[:]))
	}
}
