"""The thing in the hand: a can in its sleeve, or a flat piece, drawn from the blank's numbers.

Everything that a blank alone decides is drawn once (`maps`): where each pixel looks on the cloth,
light, weave, can, ground. A picture on it is one look-up and one product (`picture`).
"""
