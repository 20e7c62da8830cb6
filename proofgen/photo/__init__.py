"""A customer's photo: opened strictly, decoded once, measured; nothing about blanks or orders.

Empty on purpose: the process that opens strangers' pictures (`child`) imports from here and must
start without numpy and fonts.
"""
