package larder

import (
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
)

// Water is the water in a lot and where that is known from.
type Water struct {
	Share   measure.Share
	From    WaterSource
	At      measure.Temperature // of the refractometer
	Assumed bool                // nobody wrote down how warm the refractometer was
	Unknown string              // why there is none; empty where there is one
}

// WaterSource is how the water in a lot was found.
type WaterSource string

// The sources, the better one first.
const (
	Measured     WaterSource = "measured"
	ByRefraction WaterSource = "by its refractive index"
)

// room is what a refractometer is taken to be read at where nobody wrote it
// down.
const room measure.Temperature = 20

// WaterOf is the water in a lot: measured, else by its refractive index.
func WaterOf(l ferment.Lot) Water {
	switch {
	case l.Water.Known():
		return Water{Share: l.Water.Value, From: Measured}
	case !l.RefractiveIndex.Known():
		return Water{Unknown: "nobody measured it"}
	}
	at := l.ReadAt.Or(room)
	w, err := honey.Water(gravity.Index(l.RefractiveIndex.Value), at)
	if err != nil {
		return Water{Unknown: err.Error()}
	}
	return Water{Share: w, From: ByRefraction, At: at, Assumed: !l.ReadAt.Known()}
}

// Known tells whether there is a figure.
func (w Water) Known() bool { return w.Unknown == "" }

// Or is the water, else what is taken for it.
func (w Water) Or(fallback measure.Share) measure.Share {
	if w.Known() {
		return w.Share
	}
	return fallback
}
