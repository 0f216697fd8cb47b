"""The starter that ``ellwand new`` writes: a small project that explains every key and plans as it stands."""

from __future__ import annotations

from pathlib import Path

from ellwand.errors import InputError

__all__ = ["STARTER", "write_starter"]

STARTER = """\
# A quilt project for Ellwand. Change what you like, then type:  ellwand plan THIS-FILE
#
# A line that starts with "# " is explanation. A line such as  #seam = "1/4 in"  shows what holds anyway:
# take the # away and change the value to have it otherwise.
# Write lengths as "2 1/2 in", "2.5 in", "1 1/4 yd", "65 mm", "6.5 cm", or as a plain number of the project's unit.
# Pairs such as [6, 6] are across first, then down; shrinks alone is lengthwise first, then crosswise.

[project]
name = "Hedgerow"               # an invented wall hanging, to be replaced by yours
unit = "in"                     # "in" or "cm": what a plain number means, and how the answers are written
#ruler = "1/8 in"               # the finest mark you cut by; cut sizes go up to it (in cm projects 1 mm)
#seam = "1/4 in"                # seam allowance, unless a part below has its own (in cm projects 7 mm)
#layout = "rotary"              # "rotary": straight cuts from edge to edge; "free": any arrangement, cut with scissors
#stages = 3                     # rotary: cut strips, cut those across, trim; "any" allows deeper cuts
#keep = "4 in"                  # a leftover is worth keeping if both sides have this; less is scrap (in cm 10 cm)
#copies = 1                     # the same quilt so many times, as for kits

[kits]                          # how several copies are cut; it says nothing as long as there is one
# layers = 4  has them cut in four layers whatever that takes; else it is four where they take little more cloth so.
#square_again = "1/4 in"        # lost where the end of the layers is made true again (in cm projects 7 mm),
#strips = 8                     # which is after so many strips

[quilt]                         # leave this table and the blocks out for a bag or a list of loose pieces
across = 2                      # blocks in a row
down = 3                        # rows
#setting = "straight"           # rows and columns; "on point": square blocks on their corners
# On point there are (across - 1) x (down - 1) more blocks between them, and  triangles = "night"  fills the edge.
# Where the sewn centre came out otherwise,  measured = ["13 1/8 in", "20 in"]  has the borders cut to it.

[[block]]                       # as many kinds as you have; their counts fill the quilt
name = "wren"
count = 3                       # a single kind needs no count: it fills the quilt
finished = [6, 6]               # from seam line to seam line
#seam = "1/4 in"                # with which the blocks are joined, one for the whole quilt; else the project's
#trim = "1/4 in"                # what is left outside the stitched edge when a block is trimmed; else the seam
hoop = ["160 mm", "260 mm"]     # the field your machine can stitch; leave it out to have nothing checked
frame = ["200 mm", "300 mm"]    # outside of the hoop, for the stabiliser
#hoopings = 1                   # how often a block is hooped

[[block.piece]]                 # one layer of the block above
name = "background"
fabric = "night"
covers = [1, 1]                 # its share of the stitched block; [1, 0.5] is one half; all of it if unsaid
margin = "1 in"                 # beyond that all round, or { top = "1 in", left = "2 in" }; else as much as trim
#count = 1                      # in one block
grain = "lengthwise"            # its down side along the selvage; "crosswise"; or "either", which holds if unsaid
#turned = false                 # true: it is stitched lying sideways in the hoop
#spare = 0                      # so many more, in all, if the cloth has room for them
# Of a print with a repeat, phase = [3, 5] says where in it the piece's lower left corner lies; so motifs match.

[[block.piece]]
name = "wing"
fabric = "straw"
size = ["2 1/2 in", 3]          # a stitched size in place of covers; or  cut = [3, 4]  as it is cut, without a margin
margin = "1/4 in"
count = 2

[[block]]                       # a pieced block: patches in place of layers, and nothing to stitch
name = "hedge"
count = 3
finished = [6, 6]

[[block.piece]]
name = "goose"
fabric = "straw"
patch = "geese"                 # "square", "rectangle", "half-square" or "quarter-square" (triangles), "geese"
finished = [6, 3]               # of the patch; of triangles, the square that they make; geese: twice as wide as high
count = 2
#seam = "1/4 in"                # on all its edges; else the project's
#yields = 4                     # how many a cut square gives; geese 4 or 1, half-squares 2 or 8
sky = "night"                   # geese alone: the fabric of their small triangles

[sashing]                       # strips between the blocks
width = "1 in"                  # finished
fabric = "night"
cornerstones = "straw"          # fabric of the squares where they meet; without them the level strips run through
#outside = false                # true: some round the outermost blocks too

[stabiliser]                    # one sheet for every hooping
fabric = "tear-away"
#margin = "1 in"                # beyond the frame on each side (in cm projects 2.5 cm)
#layers = 1                     # sheets on top of each other
overlap = "1 in"                # of sheets joined from a roll that is too narrow; without it, none is joined

[[piece]]                       # a piece that has nothing to do with the blocks; as many as you like
name = "label"
fabric = "linen"
cut = [5, "3 1/2 in"]           # as it is cut
#count = 1
#spare = 0                      # so many more, if the cloth has room for them
grain = "crosswise"             # its down side across the cloth; as for the pieces of blocks, and so is phase = [3, 5]

[[border]]                      # from the inside out
name = "inner"
width = "1 in"                  # finished
fabric = "straw"
#corners = "mitred"             # at 45 degrees; "butted": top and bottom run across the sides; "cornerstones": squares
# Cornerstones are of the border's fabric, or of another:  cornerstones = "night"
#seam = "1/4 in"                # of its inner line; the first border has the blocks' seam, the others the project's
#cut = "best"                   # "lengthwise" or "crosswise" of the cloth, or "best": whichever takes less
#join = "diagonal"              # strips sewn end to end at 45 degrees, or "straight"
#shortest = "12 in"             # no bit of a joined strip is shorter (in cm projects 30 cm)
joins = 1                       # most joins in one strip; if unsaid, as few as the cloth allows
#extra = "6 in"                 # spare length on each strip (mitred 6 in or 15 cm, else none)
#sewn_together = false          # true: joined to the border inside it before the mitre is sewn

[[border]]
name = "outer"
width = "3 in"
fabric = "night"
sewn_together = true

[binding]                       # double, folded lengthwise
fabric = "straw"
#strip = "2 1/2 in"             # its cut width (in cm projects 6.5 cm)
#seam = "1/4 in"                # with which it is sewn on; else the project's
#grain = "crosswise"            # "lengthwise"; "bias": at 45 degrees, for curves; "any": crosswise or lengthwise
#extra = "14 in"                # for corners and for closing (in cm projects 35 cm)
#join = "diagonal"              # or "straight"
#shortest = "12 in"             # no bit is shorter (in cm projects 30 cm)

[backing]
fabric = "linen"
#overhang = "4 in"              # beyond the quilt top on each side (in cm projects 10 cm)
#seam = "1/4 in"                # between its panels; else the project's
#panels = "best"                # "lengthwise": they hang down the quilt; "crosswise": across; "best": what takes less

[batting]
fabric = "batting"
#overhang = "4 in"              # beyond the quilt top on each side (in cm projects 10 cm)
#under = "all"                  # "all", "borders", "none"; "borders" if blocks have pieces of the same batting

[sleeve]                        # a tube on the back, to hang the quilt by
fabric = "linen"
#depth = "4 in"                 # finished (in cm projects 10 cm)
#seam = "1/4 in"                # along it
#extra = "2 in"                 # beyond the width of the quilt, in all

[fabric.night]                  # one table for each fabric named above, and its name after the dot
is = "dark blue cotton"         # for you to know it by
width = "43 in"                 # measured from selvage to selvage, before washing
#selvage = "1/2 in"             # lost at each edge (in cm projects 1 cm)
#way = "any"                    # "one-way": a print with a top and bottom; "stripe": may lie upside down, not sideways
#grain = "woven"                # "none" for batting, stabiliser and film, which may lie any way
# A print that has to match says after how much it begins again, across and along: repeat = [12, 25]
wash = true                     # you wash it before cutting; false if unsaid
shrinks = ["3 %", "2 %"]        # in washing: lengthwise, crosswise; nothing if unsaid
#square_up = "1/2 in"           # lost when an uneven end is made true (in cm projects 1 cm)
#square_up_ends = 1             # 2 if both ends are
#sold_by = "1/8 yd"             # the step in which the shop sells it (in cm projects 10 cm)
price = 12.50                   # for a yard (for a metre in cm projects), in your own money; leave it out if you like
# Where the shop has bolts of one length,  bolt = "15 yd"  has no piece cross the end of one.
#spare = "0 %"                  # so much more than needed is bought; of cloth on hand the plan says whether it is there
# Kept back for label and repair, if it needs no more cloth: keep_back = [10, 10]
#buy = true                     # false: there is no more of it to be had
# All its pieces from one cloth, or from one dye lot, whatever that takes: same_cloth = true
# A mix stands for several fabrics, in a table of its own such as [fabric.dark]: any_of = ["night", "straw"]
# With a ledger of your cloth, take from there all that is not said here: ledger = "its name there"; then list no cloth.

[[fabric.night.on_hand]]        # cloth you own; as many of these as you have
length = "1 yd"                 # along the selvage; without a width it is a length of the full width
# The dye lot of a cloth, if you know it: lot = "A"
# A bolt that is not as wide as its fabric says how wide it is, selvages and all: full_width = "42 1/2 in"
#count = 1                      # so many alike
#selvages = 2                   # how many of its edges are selvage
#washed = false                 # true: it has been washed already
#square_up = "1/2 in"           # lost in all when its ends are made true
#flaws = []                     # to keep clear of: [{ x = 3, y = 5, across = 2, along = 1 }], from the left and the end

[fabric.straw]
is = "yellow cotton"
width = "43 in"

[[fabric.straw.on_hand]]        # fat quarters: cloth with a width is a rectangle as measured, which loses nothing
length = "18 in"                # along the selvage
width = "21 in"                 # an odd shape has neither, but outline = [[0, 0], [20, 0], [20, 9], [0, 18]]
count = 2
#selvages = 0
#washed = true
#square_up = "0 in"
#flaws = []

[fabric.linen]
is = "plain linen for the back"
width = "54 in"

[fabric.batting]
width = "60 in"
selvage = 0
grain = "none"

[fabric.tear-away]
is = "stabiliser from the roll"
width = "20 in"
selvage = 0
grain = "none"
sold_by = "1 yd"

# The same design in other hoops, as a pattern prints it:  ellwand sizes THIS-FILE  lists what each size takes.
# A size says what differs, and all else is as above; margins, seams and fold-over widths do not grow.

[[size]]                        # as many as you like; "ellwand plan" looks at none unless you say  --size "5 × 7"
name = "5 × 7"
hoop = ["130 mm", "180 mm"]     # of every block that has a hoop
frame = ["170 mm", "230 mm"]    # outside of that hoop
finished = [5, 5]               # of every block; pieces that cover a share of it follow
block = [{ name = "hedge", piece = [{ name = "goose", finished = [5, "2 1/2 in"] }] }]   # by their names
border = [{ name = "outer", width = "2 1/2 in" }]
# In the same way  piece = [{ name = "label", cut = [4, 3] }]  and, without a name,  quilt = { across = 3 },
# sashing = {}, stabiliser = {}, binding = {}, backing = {}, batting = {} and sleeve = {}, with what differs between.
"""


def write_starter(path: Path) -> None:
    """Write the starter to a new file at `path`; nothing is ever overwritten.

    Raises
    ------
    InputError
        Something is at `path` already, or nothing can be written there.
    """
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(STARTER)
    except FileExistsError:
        raise InputError(
            where=str(path), found="is there already, and stays as it is", hint="Choose another name"
        ) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError(where=str(path), found=f"cannot be written: {reason}") from None
