package forecast

import "math"

// matrix is kept column by column.
type matrix struct {
	rows, columns int
	values        []float64
}

func newMatrix(rows, columns int) matrix {
	return matrix{rows, columns, make([]float64, rows*columns)}
}

func (m matrix) column(j int) []float64 { return m.values[j*m.rows : (j+1)*m.rows] }

// lengths are those of the columns; one that is zero counts as of length 1.
func (m matrix) lengths() []float64 {
	out := make([]float64, m.columns)
	for j := range out {
		if out[j] = length(m.column(j)); out[j] == 0 {
			out[j] = 1
		}
	}
	return out
}

// reflect turns the matrix into an upper triangle by Householder reflections,
// and a right side with it.
func (m matrix) reflect(right []float64) {
	for j := range m.columns {
		v := m.column(j)[j:]
		size := length(v)
		if size == 0 {
			continue
		}
		diagonal := -math.Copysign(size, v[0])
		v[0] -= diagonal
		half := dot(v, v) / 2
		for k := j + 1; k < m.columns; k++ {
			mirror(v, half, m.column(k)[j:])
		}
		mirror(v, half, right[j:])
		v[0] = diagonal
	}
}

func mirror(v []float64, half float64, y []float64) {
	t := dot(v, y) / half
	for i := range v {
		y[i] -= t * v[i]
	}
}

// backSubstitute solves the upper triangle for a right side.
func (m matrix) backSubstitute(right []float64) []float64 {
	x := make([]float64, m.columns)
	for i := m.columns - 1; i >= 0; i-- {
		sum := right[i]
		for j := i + 1; j < m.columns; j++ {
			sum -= m.column(j)[i] * x[j]
		}
		if d := m.column(i)[i]; d != 0 {
			x[i] = sum / d
		}
	}
	return x
}

func dot(a, b []float64) float64 {
	var sum float64
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}

func length(v []float64) float64 { return math.Sqrt(dot(v, v)) }
