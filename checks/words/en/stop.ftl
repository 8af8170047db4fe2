# The stop, hands first, and the page of a Stop now.

stop-before = Look, listen and smell first. Is any of these there?
stop-nothing = Nothing of these
stop-nothing-else = Nothing else
stop-which-wheel = Which wheel?
stop-more-axles = It has one more axle
stop-trailer = This trailer
stop-next = Next
stop-hubs = { $axles ->
    [1] How warm are the hubs?
   *[other] Axle { $axle }: how warm are the hubs?
  }
stop-hubs-help = Back of the hand near the hub barrel first, then a short touch. One side, then its mate.
stop-do-not-touch = Leave this wheel alone. Do not touch it.
stop-thermometer = I have a thermometer
stop-elsewhere = Felt somewhere else
stop-run = The run so far
stop-from-last = Filled in from your last stop. Tap what has changed.
stop-exact = Exact figure
stop-more = Go on: nuts, tires, load, latch

stop-now-headline = { $where }: { $title }.
stop-now-driveway = Do not tow this trailer until it is put right.
stop-now-done = Done, next step ({ $n } of { $all })
stop-now-tell = Tell them this
stop-now-where = Road, direction, mile marker
stop-now-locate = Add my position
stop-now-share = Share or copy
stop-now-card = Trailer stopped: { $trailer }.
stop-now-a-trailer = name not given
stop-now-at = At: { $place }
stop-now-call = Call { $name }
stop-now-call-own = Call my number for help
stop-now-no-number = No number to call is kept on this phone.
stop-now-ended = How did it end?
stop-now-mended = Mended
stop-now-towed = Towed away
stop-now-wrong = It was wrong
stop-now-go-on = Go on with the check
