package finishing

import (
	"fmt"

	"cellar/jugkeeper/ferment/measure"
)

// EverydayPK is the pK of sulphurous acid that printed tables for the cellar
// are worked with, for where the alcohol is not known. A higher one would ask for
// less sulphite: it is the safe side.
const EverydayPK = 1.81

// pkTable is OIV-MA-AS323-04C, table 2: the mixed pK at the ionic strength of
// wine, 0.038, at 0, 5, 10, 15 and 20 % vol (rows) and 20, 25, 30, 35 and 40 °C
// (from memory). It is the thermodynamic pK of table 1 less the activity of the
// ions, about 0.08; that one alone would ask for a sixth too little.
var pkTable = [5][5]float64{
	{1.723, 1.925, 2.143, 2.257, 2.416},
	{1.819, 2.020, 2.220, 2.317, 2.446},
	{1.916, 2.116, 2.311, 2.405, 2.522},
	{2.014, 2.216, 2.417, 2.520, 2.640},
	{2.114, 2.317, 2.538, 2.663, 2.803},
}

// PK is the pK of sulphurous acid in a liquid of an alcohol and a temperature,
// linear between the rows and columns of the table. Range: 0 to 20 % vol, 20 to
// 40 °C; outside an error. Source: OIV-MA-AS323-04C, table 2 (from memory).
// Uncertainty: 0.02.
func PK(alcohol measure.Strength, at measure.Temperature) (float64, error) {
	if err := measure.InRange("alcohol", alcohol, 0, 20, "% vol"); err != nil {
		return 0, err
	}
	if err := measure.InRange("temperature", at, 20, 40, "°C"); err != nil {
		return 0, err
	}
	row, down := between(float64(alcohol) / 5)
	column, across := between((float64(at) - 20) / 5)
	upper := mix(pkTable[row][column], pkTable[row][column+1], across)
	lower := mix(pkTable[row+1][column], pkTable[row+1][column+1], across)
	return mix(upper, lower, down), nil
}

// between is the last of the table's five lines that has another after it and
// is not past x, and how far x lies from it towards the next.
func between(x float64) (line int, part float64) {
	line = min(int(x), 3)
	return line, x - float64(line)
}

func mix(a, b, part float64) float64 { return a + (b-a)*part }

func (s Sulphite) pk() (float64, []string, error) {
	switch {
	case s.PK.Known():
		if err := measure.InRange("pK", s.PK.Value, 1.5, 3, ""); err != nil {
			return 0, nil, err
		}
		return s.PK.Value, nil, nil
	case s.Alcohol.Known():
		pk, err := PK(s.Alcohol.Value, s.At.Or(20))
		if s.At.Known() {
			return pk, nil, err
		}
		return pk, []string{"it stands at {20 °C}"}, err
	}
	return EverydayPK, []string{fmt.Sprintf("pK %.2f, as printed tables have it", EverydayPK)}, nil
}
