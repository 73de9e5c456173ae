package course

import (
	"math"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// ForcedTest is the result of a warm glass with strong yeast, which shows whether sugar is left.
type ForcedTest struct {
	Begun   time.Time
	Running bool            // started, and not read yet
	Done    bool            // read, and nothing was added to the vessel since it was started
	Early   bool            // read before its fifth day, too early to count
	Result  Reading         // corrected like the vessel's
	Fell    measure.Gravity // below the vessel, to 0.0001
	Passed  bool            // within 0.001 of the vessel
}

const (
	testAgrees = 0.001
	testDays   = 5  // of a glass until it can be read
	testLapses = 14 // days after its start in which a result belongs to a test
	testUnseen = 7  // assumed duration of a test without a recorded start
)

// forcedTest returns the latest test since the last addition.
func (c *Course) forcedTest() ForcedTest {
	var t ForcedTest
	since := c.disturbedBy(c.Now)
	for _, e := range c.Entries {
		if e.Did != ferment.ForcedTest {
			continue
		}
		r, read := c.reading(e)
		switch {
		case !read && e.At.Time.After(since):
			t.Begun, t.Running = e.At.Time, true
		case read:
			t = c.testRead(t, r, since)
		}
	}
	if t.Done && c.Gravity.IsKnown() {
		fell := float64(c.Gravity.Value.Gravity.Rounded(4) - t.Result.Gravity.Rounded(4))
		t.Fell = measure.Gravity(math.Round(fell*1e4) / 1e4)
		t.Passed = math.Abs(float64(t.Fell)) <= testAgrees+tiny
	}
	return t
}

// testRead returns a test with its result. A doubtful result leaves it unread; a test without a start is assumed to
// have begun a week before.
func (c *Course) testRead(t ForcedTest, r Reading, since time.Time) ForcedTest {
	if r.Doubt != "" {
		return t
	}
	begun := t.Begun
	if begun.IsZero() || c.Days(begun, r.At) > testLapses {
		begun = r.At.AddDate(0, 0, -testUnseen)
	}
	switch {
	case !begun.After(since):
		return ForcedTest{}
	case c.Days(begun, r.At) < testDays:
		if t.Begun, t.Running, t.Early = begun, true, true; t.Done && r.Gravity < t.Result.Gravity {
			t.Result = r // the result of a test before it stays, unless this glass is lower already
		}
		return t
	}
	return ForcedTest{Begun: begun, Done: true, Result: r}
}

// Points returns the thousandths of sugar left, by the test.
func (t ForcedTest) Points() float64 {
	if !t.Done || t.Fell <= testAgrees+tiny {
		return 0
	}
	return float64(t.Fell) * 1000
}
