package desk_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/desk"
)

func grams(text string) ferment.Amount {
	q, err := measure.ParseQuantity(text)
	if err != nil {
		panic(err)
	}
	return ferment.Amount{Quantity: q}
}

// TestDone writes what a plan and a person say: the planned amount where none
// is given, what goes first a minute before it, the step where the act alone
// could mean another.
func TestDone(t *testing.T) {
	started := "3 11:00 pitch|4 08:00 started"
	for _, c := range []struct {
		what, log string
		wish      desk.Wish
		want      []string // written at 5 October, 09:00
	}{
		{"a step without an amount", started, desk.Wish{Step: "degas"}, []string{"09:00:00 degas"}},
		{"by its act, with what goes first", started, desk.Wish{Step: "nutrient", Amount: grams("1.5 g")}, []string{"08:59:00 degas", "09:00:00 nutrient nutrient-1 1.5 g"}},
		{"in whatever case", started, desk.Wish{Step: "Degas"}, []string{"09:00:00 degas"}},
		{"degassed 60 min before", started + "|5 08:00 degas", desk.Wish{Step: "nutrient-1", Amount: grams("1.5 g")}, []string{"08:00:00 degas", "09:00:00 nutrient nutrient-1 1.5 g"}},
		{"degassed 61 min before", started + "|5 07:59 degas", desk.Wish{Step: "nutrient-1", Amount: grams("1.5 g")}, []string{"08:59:00 degas", "09:00:00 nutrient nutrient-1 1.5 g"}},
		{"an unknown amount stays one", started, desk.Wish{Step: "nutrient-1", Amount: ferment.Amount{Unknown: true}}, []string{"08:59:00 degas", "09:00:00 nutrient nutrient-1 unknown"}},
		{"at another time", started, desk.Wish{Step: "degas", At: ferment.At(at(5, 7, 30))}, []string{"07:30:00 degas"}},
		{"early, by its name", started, desk.Wish{Step: "rack"}, []string{"09:00:00 rack rack"}},
		{"an act of no step", started, desk.Wish{Step: "chill"}, []string{"09:00:00 chill"}},
		{"a reminder", started + "|4 09:00 remind=2026-10-05 ;wash the bung", desk.Wish{Step: "reminder"}, []string{"09:00:00 reminder"}},
	} {
		s := holding(jug("heath", 3.6, c.log))
		kept, err := desk.New(s).Done(at(5, 9, 0), []string{"heath"}, c.wish)
		require.NoError(t, err, c.what)
		assert.Equal(t, c.want, written(s, "heath", len(c.want)), c.what)
		assert.Equal(t, "heath", kept.Receipts[0].Subject, c.what)
	}
}

// TestDoneSettles: the task that was asked for stands as done afterwards, also
// one of the person's own.
func TestDoneSettles(t *testing.T) {
	s := holding(jug("heath", 3.6, "3 11:00 pitch|4 08:00 started|4 09:00 remind=2026-10-05 ;wash the bung"))
	d := desk.New(s)
	for _, step := range []string{"degas", "nutrient-1", "reminder"} {
		_, err := d.Done(at(5, 9, 0), []string{"heath"}, desk.Wish{Step: step})
		require.NoError(t, err)
		_, v := vessel(s, "heath", at(5, 9, 1))
		assert.True(t, isDone(v, step), step)
	}
}

func isDone(v desk.Vessel, step string) bool {
	for _, task := range v.Day.Tasks {
		if task.Step == step && task.State == schedule.Done {
			return true
		}
	}
	return false
}
