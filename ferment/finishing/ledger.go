package finishing

import (
	"fmt"

	"cellar/jugkeeper/ferment/measure"
)

// Way is how a volume came or went.
type Way string

// The ways.
const (
	Filled   Way = "filled"   // the must
	Added    Way = "added"    // honey, water, juice, a top-up
	Lost     Way = "lost"     // samples, foam, lees, what a racking leaves
	Parted   Way = "parted"   // into another vessel, as a ferment of its own
	Bottled  Way = "bottled"  // into bottles
	Measured Way = "measured" // no movement: what was found to be there
)

// Movement is one volume that came or went, in the order of time.
type Movement struct {
	Way    Way
	Volume measure.Volume
	Known  bool // nobody measured it, if not; it counts as unknown, never as zero
}

// Balance is what became of a must.
type Balance struct {
	Left      measure.Volume
	Filled    measure.Volume
	Added     measure.Volume
	Lost      measure.Volume
	Parted    measure.Volume
	Bottled   measure.Volume
	Corrected measure.Volume // what measuring found more, or if negative less, than the sum
	Unknown   int            // movements of unknown volume since the last measuring
}

// Reckon is what movements leave:
//
//	left = filled + added − lost − parted − bottled + corrected
//
// A measured volume takes the place of the sum so far. Range: 0 to 2000 L each,
// outside an error. Where more went out than was there it is an error that says
// which movement, unless an unknown volume came before it. Source: mass
// balance. Uncertainty: that of the volumes.
func Reckon(movements []Movement) (Balance, error) {
	var b Balance
	for _, m := range movements {
		if err := b.take(m); err != nil {
			return Balance{}, err
		}
	}
	return b, nil
}

func (b *Balance) take(m Movement) error {
	if !m.Known {
		b.Unknown++
		return nil
	}
	if err := measure.InRange("volume "+string(m.Way), m.Volume, 0, 2000, "L"); err != nil {
		return err
	}
	switch m.Way {
	case Filled:
		b.Filled += m.Volume
	case Added:
		b.Added += m.Volume
	case Lost:
		b.Lost += m.Volume
	case Parted:
		b.Parted += m.Volume
	case Bottled:
		b.Bottled += m.Volume
	case Measured:
		b.Corrected += m.Volume - b.sum()
		b.Unknown = 0
	default:
		return &measure.Error{Text: string(m.Way), Problem: "is not a way for a volume to go", Hint: "filled, added, lost, parted, bottled or measured, e.g. lost"}
	}
	return b.settle(m)
}

// settle works out what is left. Out of a rounding error it makes nothing, out
// of an unknown volume it cannot make an error.
func (b *Balance) settle(m Movement) error {
	const drop = 1e-6
	left := b.sum()
	if left < -drop && b.Unknown == 0 {
		return fmt.Errorf("%s %s is more than the %s that were left", m.Volume, m.Way, b.Left)
	}
	b.Left = max(left, 0)
	return nil
}

func (b *Balance) sum() measure.Volume {
	return b.Filled + b.Added - b.Lost - b.Parted - b.Bottled + b.Corrected
}

// Yield is the share of what went in that came into bottles; zero where nothing
// went in.
func (b Balance) Yield() measure.Share {
	in := b.Filled + b.Added
	if in <= 0 {
		return 0
	}
	return measure.Share(b.Bottled / in * 100)
}
