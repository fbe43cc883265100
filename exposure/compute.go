package exposure

// Compute derives every figure from a setup's plain numbers. What the input
// does not hold gives nil, never a guess; the lists are never nil, and keep the
// order of the bases and lights given.
func Compute(in Input) Numbers {
	placing := difference(in.ApertureAv, in.KeyAv)
	out := Numbers{
		Exposure: Exposure{
			ISO: kept(in.ISO), ShutterS: kept(in.ShutterS),
			KeyAv: kept(in.KeyAv), Zero: zeroOf(in), ApertureAv: kept(in.ApertureAv), Placing: placing,
		},
		Bases:     basesOut(in.Bases, placing),
		Lights:    make([]LightOut, 0, len(in.Lights)),
		Ratios:    ratios(in),
		Together:  together(in),
		BaseRange: baseRange(in, placing),
		Ambient:   ambient(in),
	}
	out.Camera = cameraOut(in, out.Bases)
	for i := range in.Lights {
		out.Lights = append(out.Lights, lightOut(in, &in.Lights[i]))
	}
	return out
}

// zeroOf names what every difference is from; nil in a set without a key.
func zeroOf(in Input) *string {
	if in.Zero != "" {
		return &in.Zero
	}
	for i := range in.Lights {
		if in.Lights[i].Role == "key" {
			return &in.Lights[i].Name
		}
	}
	return nil
}
