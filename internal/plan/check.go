package plan

func (p *problem) check(out *Plan) []error { return nil }
