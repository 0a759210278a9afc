"""The stage: pictures that a hand moves, drawn once in Python and moved by the page.

A drawing function runs on numbers and gives a still picture.  It runs once more on recorded
quantities and gives a picture the page can move: ``stage.js`` works the recorded rows out
again at each move and writes what changed.  No formula, drawing or sentence is typed in script.

recorder          quantities that are written down instead of worked out
elements          a picture as a tree of elements, and as text
recording         a drawing as data for the page
sheet             the grid of a picture, its columns, tags and dimension lines
controls          boxes, sliders and buttons beside it
case              a tractor and a piece, and what of it moves;  act  the two acts of a picture
tractor_outline   the one machine;  stand  how it leans;  on_scales  what two scales show
tractor           the two acts: say it, and weigh it;  weighed_picture  the second's picture
plank             the same with a jug on a plank;  plank_case, plank_picture, plank_outline
strip             a loader that comes off piece by piece;  strip_case, strip_picture
yard              four pads seen from above, without and with a piece;  yard_case, yard_picture,
                  tractor_above
weighed_day       a weigh day's own readings, a still picture;  enlarged  a column's end in detail
"""
