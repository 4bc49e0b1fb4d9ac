package drawing

import "math"

// Path is a pen's way over the paper. It is written as it is built, because the long paths of a plot
// (every plant of a bed in one) are what a page costs.
type Path struct {
	d   []byte
	bad bool
}

// NewPath is a path with room for about n commands.
func NewPath(n int) *Path { return &Path{d: make([]byte, 0, 12*n)} }

// Empty says whether nothing has been drawn.
func (p *Path) Empty() bool { return len(p.d) == 0 }

func (p *Path) put(letter byte, numbers ...float64) *Path {
	p.d = append(p.d, letter)
	for i, v := range numbers {
		if i > 0 {
			p.d = append(p.d, ' ')
		}
		p.number(v)
	}
	return p
}

func (p *Path) number(v float64) {
	d, ok := appendNumber(p.d, v)
	p.d, p.bad = d, p.bad || !ok
}

// MoveTo lifts the pen to x, y.
func (p *Path) MoveTo(x, y float64) *Path { return p.put('M', x, y) }

// LineTo draws to x, y.
func (p *Path) LineTo(x, y float64) *Path { return p.put('L', x, y) }

// QuadTo bends to x, y by the control point cx, cy.
func (p *Path) QuadTo(cx, cy, x, y float64) *Path { return p.put('Q', cx, cy, x, y) }

// CubicTo bends to x, y by two control points.
func (p *Path) CubicTo(ax, ay, bx, by, x, y float64) *Path { return p.put('C', ax, ay, bx, by, x, y) }

// Close draws back to where the pen was last set down.
func (p *Path) Close() *Path { p.d = append(p.d, 'Z'); return p }

// Dot sets a point, which a stroke with round ends draws as a disc as wide as the stroke.
func (p *Path) Dot(x, y float64) *Path {
	p.put('M', x, y)
	p.d = append(p.d, 'h', '0')
	return p
}

// Ring adds a whole circle.
func (p *Path) Ring(x, y, radius float64) *Path {
	p.put('M', x-radius, y)
	p.arc(radius, 2*radius)
	p.arc(radius, -2*radius)
	return p.Close()
}

func (p *Path) arc(radius, dx float64) {
	p.put('a', radius, radius)
	p.d = append(p.d, " 0 1 0 "...)
	p.number(dx)
	p.d = append(p.d, " 0"...)
}

// Box adds a rectangle.
func (p *Path) Box(x, y, width, height float64) *Path {
	p.put('M', x, y)
	p.put('h', width)
	p.put('v', height)
	p.put('h', -width)
	return p.Close()
}

// Polygon adds a closed line through the points.
func (p *Path) Polygon(points ...[2]float64) *Path {
	for i, q := range points {
		if i == 0 {
			p.MoveTo(q[0], q[1])
		} else {
			p.LineTo(q[0], q[1])
		}
	}
	return p.Close()
}

// Polyline adds an open line through the points.
func (p *Path) Polyline(points ...[2]float64) *Path {
	for i, q := range points {
		if i == 0 {
			p.MoveTo(q[0], q[1])
		} else {
			p.LineTo(q[0], q[1])
		}
	}
	return p
}

// Stamp adds a figure drawn on the unit circle, scaled, turned (radians) and moved to x, y.
func (p *Path) Stamp(f Figure, x, y, scale, turn float64) *Path {
	sin, cos := math.Sincos(turn)
	sin, cos = sin*scale, cos*scale
	for _, s := range f {
		p.d = append(p.d, s.Letter)
		for i := range s.Points {
			if i >= s.count() {
				break
			}
			q := s.Points[i]
			if i > 0 {
				p.d = append(p.d, ' ')
			}
			p.number(x + q[0]*cos - q[1]*sin)
			p.d = append(p.d, ' ')
			p.number(y + q[0]*sin + q[1]*cos)
		}
	}
	return p
}

// Figure is a small drawing on the unit circle, to be stamped many times.
type Figure []Stroke

// Stroke is one absolute path command of a Figure: M, L, Q, C or Z with its points.
type Stroke struct {
	Letter byte
	Points [3][2]float64
}

func (s Stroke) count() int {
	switch s.Letter {
	case 'M', 'L':
		return 1
	case 'Q':
		return 2
	case 'C':
		return 3
	}
	return 0
}
