package words

import (
	"fmt"
	"time"
)

const day = 24 * time.Hour

// When is a time as near as it needs to be named: the hour today, the day and
// the hour within a week, else the date.
func When(t, now time.Time) string {
	t = t.In(now.Location())
	switch n := daysApart(t, now); {
	case n == 0:
		return t.Format("15:04")
	case n > -7 && n < 7:
		return t.Format("Mon 15:04")
	}
	return Date(t, now)
}

// Date is a day: with its weekday where it is near enough for one to help, with
// its year where the day alone could be taken for another.
func Date(t, now time.Time) string {
	t = t.In(now.Location())
	n := max(daysApart(t, now), -daysApart(t, now))
	switch {
	case n <= 60:
		return t.Format("Mon 2 Jan")
	case n <= 180, t.Year() == now.Year():
		return t.Format("2 Jan")
	}
	return t.Format("2 Jan 06")
}

// Age is how long ago something was, or how long it takes: minutes under two
// hours, hours to 48, days to 99, then months and years.
func Age(d time.Duration) string {
	d = max(d, 0)
	days := int(d / day)
	switch {
	case d < 2*time.Hour:
		return fmt.Sprintf("%d min", d/time.Minute)
	case d <= 48*time.Hour:
		return fmt.Sprintf("%d h", d/time.Hour)
	case days <= 99:
		return fmt.Sprintf("%d d", days)
	case days < 730:
		return fmt.Sprintf("%d mo", min((days+3)*12/365, 23)) // half a year of 182 days is six
	}
	return fmt.Sprintf("%d y", days/365)
}

// daysApart is how many midnights lie from now to t, on the calendar of now.
func daysApart(t, now time.Time) int {
	return int(midnight(t.In(now.Location())).Sub(midnight(now)) / day)
}

// midnight is the calendar day of t as a time without zone, so that days are
// all of one length.
func midnight(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}
