package words

import (
	"strconv"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// HoneyRoom is the honey room in words: which lot to use first, what each still
// makes, and the cultures with what is known of them.
type HoneyRoom struct {
	Answer   []string // which first and why; what it makes
	Growing  string   // which culture wants something first
	Lots     []LotCard
	Cultures []CultureCard
}

// Fact is something that a card says, by its name.
type Fact struct{ Name, Says string }

// Said is a sentence under its word.
type Said struct {
	Word Word
	Text string
}

// HoneyRoomOf puts the honey room into words. The snapshot has the closed ferments
// too: what they took is gone as well.
func HoneyRoomOf(s app.Snapshot) HoneyRoom {
	r := room{at: s.At, settings: s.Cellar.Settings, snapshot: s, vessel: larder.UsualVessel(s.Cellar.Ferments)}
	as := larder.ByPress(larder.All(s.Cellar.Lots, s.Cellar.OpenAndPast(), s.At))
	out := HoneyRoom{Answer: r.answer(as)}
	for _, a := range as {
		out.Lots = append(out.Lots, r.lot(a))
	}
	courses := r.courses()
	for _, v := range s.Cultures {
		out.Cultures = append(out.Cultures, r.culture(v, courses))
	}
	out.Growing = growing(out.Cultures)
	return out
}

// room is what the words of the honey room are made from.
type room struct {
	at       time.Time
	settings ferment.Settings
	snapshot app.Snapshot
	vessel   measure.Volume // the usual one
}

// courses are what the logs of all ferments say, open ones and closed ones.
func (r room) courses() []course.Course {
	var cs []course.Course
	for _, v := range r.snapshot.Vessels {
		cs = append(cs, v.Course)
	}
	for _, f := range ferment.Parted(r.snapshot.Cellar.Past, r.snapshot.Cellar.Ferments...) {
		if f.Yeast.Culture != "" {
			cs = append(cs, course.Of(f, r.settings, r.settings.Limits, r.at))
		}
	}
	return cs
}

// label is what a ferment is called.
func (r room) label(id string) string {
	for _, f := range r.snapshot.Cellar.Ferments {
		if f.ID == id {
			return f.Label()
		}
	}
	return id
}

// answer is which lot to use first and why, and what it makes.
func (r room) answer(as []larder.Account) []string {
	if len(as) == 0 || as[0].Presses() == larder.Gone {
		return []string{"No honey in store."}
	}
	a := as[0]
	lines := []string{a.Lot.ID + " first: " + r.because(a)}
	if made, err := a.Makes(r.vessel); err == nil && len(made) > 1 {
		volume, vessels := r.filled(made[1])
		lines = append(lines, "it makes "+volume+" at "+Glass(made[1].Gravity, r.settings)+": "+vessels)
	}
	return lines
}

// because is why a lot comes first.
func (r room) because(a larder.Account) string {
	if says, keepsNot := schedule.KeepsNot(a); keepsNot && a.Presses() < larder.ThisYear {
		return says
	}
	switch a.Presses() {
	case larder.ThisYear:
		return water(a.Water) + " water: use it this year"
	case larder.Unmeasured:
		return "nobody knows how wet it is; measure its water"
	case larder.Asked:
		return "only once its treatment is answered for; there is no other"
	}
	if a.Age == 0 {
		return "nothing presses"
	}
	return "nothing presses; it is the oldest, " + Age(a.Age)
}

// filled is a volume of must, and the vessels that it fills.
func (r room) filled(m larder.Made) (volume, vessels string) {
	volume, each := m.Volume.In(r.settings.Units), r.vessel.In(r.settings.Units)
	switch m.Vessels {
	case 0:
		return volume, "not one vessel of " + each
	case 1:
		return volume, "1 vessel of " + each
	}
	return volume, strconv.Itoa(m.Vessels) + " vessels of " + each
}

// cautioned are cautions under their words.
func cautioned(cs []schedule.Caution) []Said {
	words := map[schedule.Loud]Word{schedule.Stop: Stop, schedule.Warn: Warn, schedule.Note: Note}
	var out []Said
	for _, c := range cs {
		out = append(out, Said{words[c.Loud], c.Text})
	}
	return out
}

// facts are those that say something.
func facts(fs ...Fact) []Fact {
	var out []Fact
	for _, f := range fs {
		if strings.TrimSpace(f.Says) != "" {
			out = append(out, f)
		}
	}
	return out
}

// on is a day and how long ago it was.
func (r room) on(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return Date(t, r.at) + ", " + Age(r.at.Sub(t)) + " ago"
}
