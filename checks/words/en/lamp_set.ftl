point-lamp_set = Lamps it must have
point-lamp_rear_count = Count the rear lamps
point-lamp_side_count = Count the other lamps
point-lamp_heights = Colour and height

quantity-need_pair = tail, stop, turn lamps and rear reflectors: of each
    .says = It must have { $value } each of tail lamps, stop lamps, turn lamps and rear reflectors.
quantity-need_plate = plate lamps, white
    .says = { $count ->
        [0] It needs no white plate lamps.
        [one] It must have { $value } white plate lamp.
       *[other] It must have { $value } white plate lamps.
    }
quantity-need_red_side = red side markers, far back
    .says = { $count ->
        [0] It needs no red side markers, far back.
        [one] It must have { $value } red side marker, far back.
       *[other] It must have { $value } red side markers, far back.
    }
quantity-need_amber_side = amber side markers, front and middle
    .says = { $count ->
        [0] It needs no amber side markers, front and middle.
        [one] It must have { $value } amber side marker, front and middle.
       *[other] It must have { $value } amber side markers, front and middle.
    }
quantity-need_side = side markers in all, and as many side reflectors
    .says = It must have { $value } side markers in all, and as many side reflectors.
quantity-need_clearance = clearance lamps
    .says = { $count ->
        [0] It needs no clearance lamps.
        [one] It must have { $value } clearance lamp.
       *[other] It must have { $value } clearance lamps.
    }
quantity-need_identification = red lamps in a row, rear centre
    .says = { $count ->
        [0] It needs no red lamps in a row, rear centre.
        [one] It must have { $value } red lamp at the rear centre.
       *[other] It must have { $value } red lamps in a row, rear centre.
    }

fact-count_tail = How many red tail lamps?
    .help = One lamp with several uses counts for each.
fact-count_stop = How many red stop lamps?
fact-count_turn = How many rear turn lamps, red or amber?
fact-count_rear_reflector = How many red reflectors at the rear?
fact-count_plate_lamp = How many plate lamps?
fact-count_side_lamp = How many side marker lamps, both sides together?
    .help = Red and amber together.
fact-count_side_reflector = How many side reflectors, both sides together?
fact-count_clearance = How many clearance lamps?
    .help = At the outer edges, amber and red together.
fact-count_identification = How many red lamps in the row, rear centre?
fact-amber_rear = Does a tail or stop lamp show amber?
    .choice-no = No
    .choice-yes = Yes
fact-height_tail = Height of tail and stop lamps?
    .help = To the middle of the lamp, trailer empty.
fact-height_turn = Height of the turn lamps?
fact-height_reflector = Height of the reflectors?
fact-height_marker = Height of the rear side marker?

finding-few_tail = Too few tail lamps
    .do = Fit a red one each side, level, 15 to 72 in up.
    .why = Two are required; one does only under 30 in wide. The federal lamp rule binds makers and commercial trailers; most states follow it: check yours.
finding-few_stop = Too few stop lamps
    .do = Fit a red one each side, level, 15 to 72 in up.
    .why = Two are required; one does only under 30 in wide. The federal lamp rule binds makers and commercial trailers; most states follow it: check yours.
finding-few_turn = Too few turn lamps
    .do = Fit a red or amber one each side, level, 15 to 83 in up.
    .why = Two are required. The federal lamp rule binds makers and commercial trailers; most states follow it: check yours.
finding-few_rear_reflector = Too few rear reflectors
    .do = Fit a red one each side, level, 15 to 60 in up.
    .why = Two are required. The federal lamp rule binds makers and commercial trailers; most states follow it: check yours.
finding-few_plate_lamp = Too few plate lamps
    .do = Fit a white lamp above or beside the plate.
    .why = One is required. The federal lamp rule binds makers and commercial trailers; most states follow it: check yours.
finding-few_side_lamp = Too few side markers
    .do = Fit red far back and amber far forward each side; from 30 ft amber in the middle too.
    .why = Only under 6 ft long the front ones may be left out. The federal lamp rule binds makers and commercial trailers; most states follow it: check yours.
finding-few_side_reflector = Too few side reflectors
    .do = Fit red far back and amber far forward each side; from 30 ft amber in the middle too.
    .why = Only under 6 ft long the front ones may be left out. The federal lamp rule binds makers and commercial trailers; most states follow it: check yours.
finding-few_clearance = Too few clearance lamps
    .do = Fit amber at the front edges, red at the rear edges.
    .why = Required from 80 in wide. A boat trailer may have one double-faced lamp a side. The federal lamp rule binds makers and commercial trailers; most states follow it: check yours.
finding-few_identification = Too few red lamps in the row
    .do = Fit three at the rear centre, level, 6 to 12 in apart.
    .why = Required from 80 in wide. The federal lamp rule binds makers and commercial trailers; most states follow it: check yours.
finding-amber_rear = Amber tail or stop lamp
    .do = Fit a red lamp.
    .why = Amber is for turn signals only.
finding-height_tail_off = Tail or stop lamp: wrong height
    .do = Move it to 15 to 72 in up.
    .why = To the middle of the lamp, trailer empty.
finding-height_turn_off = Turn lamp: wrong height
    .do = Move it to 15 to 83 in up.
    .why = To the middle of the lamp, trailer empty.
finding-height_reflector_off = Reflector: wrong height
    .do = Move it to 15 to 60 in up.
    .why = To the middle of the lamp, trailer empty.
finding-height_marker_off = Rear side marker: wrong height
    .do = Move it to 15 in or more above the ground. On a trailer 80 in wide or more, no higher than 60 in.
    .why = To the middle of the lamp, trailer empty.
