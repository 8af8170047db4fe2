### What the shop's pages say.

shop-nav-account = Account
shop-account-login = You sign in as { $login }.
shop-staff-title = Who belongs to the shop
shop-details-title = What customers see of the shop
shop-settings = Settings of the shop
shop-settings-own = For yourselves
shop-settings-mail = News by mail
shop-settings-mail-help = { level-stop } is always mailed to the address above, and so is what nobody is to drive on with yet. These come gathered: at most one mail an hour for { level-mend }, one a day for what is overdue.
shop-settings-mail-none = Whoever runs this server has set no mail server: nothing is mailed until they do.
shop-backup-made = { $days ->
    [0] Last backup of this server: today, { $time }.
    [one] Last backup of this server: { $day }, { $time }, yesterday.
   *[other] Last backup of this server: { $day }, { $time }, { $days } days ago.
}
shop-backup-never = No backup of this server is known.
shop-backup-late = Ask whoever runs it to make one: what is lost here is in nobody else’s hands.
shop-password-title = Change your password
shop-password-help = Ten characters or more. Every other device is signed out.
shop-password-change = Change the password
shop-sign-out = Sign out
shop-sign-out-here = Sign out here
shop-sign-out-everywhere = Sign out everywhere
shop-sign-out-help = Everywhere: for a lost phone. It ends the session on every device, this one too.
shop-sessions = Where you are signed in
shop-session-unnamed = A browser that gives no name
shop-session-since = signed in { $made }, last used about { $seen }
shop-session-this = here
shop-session-end = End this session
shop-session-ended = That session is ended.
shop-nav = Shop
shop-nav-inbox = Inbox
shop-nav-jobs = Jobs
shop-nav-trailers = Trailers
shop-nav-customers = Customers
shop-check-no-trailer = No trailer
shop-check-nothing = Nothing in what was answered.
shop-call-number = Call { $phone }
shop-check-phone-said = The phone said
shop-check-server-says = The server says
shop-check-beside = Also not decided on this trailer
shop-check-now = By today's rules:
shop-check-differ = The customer saw the phone's verdict.
shop-check-other-rules = The phone judged with another release of the rules.
shop-check-same-rules = Both used the same rules: report this as a fault.
shop-check-readiness = Readiness { $low } to { $high } of 100.
shop-check-coverage = Questions answered: { $answered } of { $asked }.
shop-check-phone-found = What the phone found
shop-check-found = What was found
shop-check-server-finds = What the server finds
shop-check-doubts = Could not be told:
shop-check-notes = What the shop says
shop-note-decided = decided
shop-note-to-customer = To the customer:
shop-note-help = What was decided, and by when.
shop-note-reply-help = Shown on the customer's phone the next time the link is opened there.
shop-keep = Keep
shop-check-open-again = Put it back in the inbox
shop-check-photos = Photos
shop-check-answered = What was answered
shop-check-working = How the numbers came about
shop-check-working-help = Numbers that hang on an open answer are left away.
shop-check-proof = Proof
shop-check-record = Record
shop-check-received = Received
shop-check-hash = SHA-256
shop-check-rules-phone = Rules on the phone
shop-check-rules-server = Rules on the server
shop-check-pdf = PDF to keep or send
shop-check-file = The trailer's file
shop-none = None.
shop-change = Change
shop-save = Save
shop-customer-delete = Delete this customer and everything of theirs
shop-customers-none = Nobody yet. A customer is added with the first job.
shop-decided-title = What was decided
shop-decided-none = Nothing yet. A check is decided when somebody writes on it what was decided.
shop-next = Next
shop-back-to-inbox = Back to the inbox
shop-details-phone-help = Shown beside every verdict, so that bad news is one call away.
shop-details-email-help = Where a { level-stop } is reported. Customers do not see it.
shop-files-title = In and out
shop-files-calendar = Calendar
shop-files-calendar-help = What is due, as an address that your calendar program fetches by itself.
shop-files-copy = Whoever has it can read what is due, so give it to nobody.
shop-files-hidden = There is an address. It cannot be shown again, because the server’s key has changed since; a new one puts it out of use.
shop-files-again = Make a new address
shop-files-make = Make the address
shop-files-stop = Stop the calendar
shop-files-tables = Tables
shop-files-tables-help = As CSV for a spreadsheet, in the shop’s units and by its clocks.
shop-files-whole = Everything
shop-files-whole-help = All rows and photos of the shop in one file, for another server: whoever runs that one takes it in. Passwords stay behind, so each of you gets a new one there. Keep the file like the customers’ names that are in it.
shop-files-whole-get = Write the file
shop-table-checks = Checks
shop-table-trailers = Trailers
shop-table-customers = Customers
shop-table-jobs = Jobs
shop-table-links = Links
shop-table-notes = Notes
shop-table-photos = Photos
shop-table-due = Due checks
shop-forget-title = Delete { $name }?
shop-forget-goes = This cannot be undone. What goes:
shop-forget-name = name, phone and email of { $name }
shop-forget-trailer = { $trailer }, with its jobs, links and due checks
shop-forget-checks = every check, photo, note and reply that came from them or was written to them
shop-forget-undecided = Nobody has decided these. They would go with the rest, and nothing here would say so any more: decide them first, and tell whoever has the trailer.
shop-forget-anyway = They may go; whoever has the trailer knows what was found
shop-forget-stays = What stays on their own phones is theirs. Tables and prints you have taken out before are yours to delete, and backups keep it until they are overwritten.
shop-forget-all = Delete all of it
shop-forget-keep = Keep { $name }
shop-history-title = File of { $trailer }
shop-history-hubs = Hubs above the air, in { $unit }
shop-history-bar = A bar reaches from the least to the most the hub can have been, as it was answered.
shop-checks-none = None has come in yet.
shop-older = Older
shop-inbox-decide = Decide now
shop-inbox-overdue = Overdue
shop-inbox-overdue-all = All trailers with a check overdue
shop-inbox-idle = Opened, not done yet
shop-inbox-idle-count = { $count ->
    [one] { $count } check
   *[other] { $count } checks
}
shop-inbox-idle-trailers = { $count ->
    [one] { $count } trailer has time yet
   *[other] { $count } trailers have time yet
}
shop-inbox-back = Came back
shop-call = Call
shop-due-at = at { $distance }
shop-due-by = by { $day }
shop-due-driven = Driven { $distance } by now
shop-due-unopened = Link not opened
shop-inbox-empty = Nothing has come back yet. Finish a job and send its link: what the customer finds comes in here.
shop-inbox-nothing-else = Nothing else.
shop-inbox-top = Back to the top
shop-job-of = Job: { $trailer }
shop-job-finished = finished { $day }
shop-job-open = open since { $day }
shop-job-go-on = Go on with this job
shop-job-give = Give the customer this link
shop-link-qr = QR code of the customer's link
shop-job-give-help = Let them point their phone's camera at it, or send it:
shop-job-text = Send as a text message
shop-job-mail = Send by mail
shop-job-copy = To copy
shop-job-sheet = Sheet to print
shop-link-shown = Show, send and print it again whenever you like, on any of your devices. It works until { $day }.
shop-link-made = The customer's link was made { $day }: { $state }, works until { $end }. It cannot be shown again, because the server’s key has changed since.
shop-link-state-sent = not opened yet
shop-link-state-opened = opened
shop-link-state-ended = ended
shop-link-state-revoked = taken back
shop-link-state-replaced = replaced by a newer one
shop-undecided = Not decided yet
shop-held = Do not drive on before this is settled.
shop-open-more = and { $count } more
shop-text-found = What was found: { $found }.
shop-inbox-tray = Came on a link taken back
shop-inbox-tray-help = Look at it all the same, and decide it. It does not change how the trailer stands.
shop-job-sheet-bare = Sheet to print, without the code
shop-link-none = There is no link that works.
shop-link-renew = Make a new link
shop-link-ends-old = A new link ends the one that was sent or printed: send it again.
shop-link-revoke = Take the link back
shop-job-due = Checks that should come back
shop-job-done = What was done
shop-job-bench = Bench record
shop-job-bench-whole = The whole record
shop-job-bare = Nothing stands on the bench record of this job: nobody can see later what the pin, the nuts and the play were like.
shop-job-trailer = The trailer
shop-job-new = New job
shop-trailer-facts = What it is
shop-trailer-new = A new trailer
shop-jobs-none = None yet. A job ends with a link for the customer: it tells when to stop and what to look for, and sends you what was found.
shop-check-both-differ = Phone and server differ
shop-due-done = done
shop-due-unanswered = came back with questions left open
shop-due-none = Nothing is due.
shop-reword = Change what was said
shop-back-to-check = Back to the check
shop-back-to-job = Back to the job
shop-sign-in = Sign in
shop-sign-in-title = Sign in to your shop
shop-sign-in-help = No account yet? Whoever runs this server makes the first one; it can add the others. Checking your own trailer needs no account:
shop-open-app = open the app
shop-account-app = Front page of the app
shop-staff-you = you
shop-staff-remove = Remove { $name }
shop-staff-add-title = Add somebody
shop-staff-password-help = Ten characters or more. Let them type it, or change it afterwards.
shop-staff-add = Add
shop-due = Due
shop-back-to-trailer = Back to the trailer
shop-trailer-desk = Page for the lending desk
shop-trailer-file = File over the years
shop-history-drags = Each hub against its mate
shop-history-pdf = Plots as PDF
shop-history-level = No steady climb seen
shop-history-climb = A steady climb from stop to stop, { $low } to { $high } N·m each. Look at this hub before the next trip.
shop-run-left = Still due: { $what }
shop-run-ahead = Not reached: { $what }
shop-due-drop = Drop
shop-job-is-finished = finished
shop-job-is-open = open
shop-link-desk = For the lending desk
shop-link-job = For a job
shop-link-ends = ends { $day }
shop-link-take-back = Take back
shop-trailers-none = None yet. A trailer is added with its first job, or here.
shop-trailer-add = Add a trailer
shop-note-kept = Kept.
shop-note-kept-reply = Kept. The customer sees the reply at the next look.
shop-note-still-open = It is not decided yet: it stays in the inbox until somebody ticks that on this page.
shop-sign-in-wrong = Login and password do not fit.
shop-code-title = Your one-time code
shop-code-help = Six digits from the app that makes your codes.
shop-code-lost = Phone lost? Whoever runs this server can turn your codes off.
shop-code-back = Sign in as somebody else
shop-code-wrong = That code does not fit, or was used already. Wait for the next one; if that fails too, set the phone’s clock.
shop-codes-title = One-time codes
shop-codes-what = With codes on, signing in takes your password and six digits from an app on your phone. A stolen password alone then opens nothing.
shop-codes-scan = Scan this with an app that makes one-time codes (any that knows TOTP).
shop-codes-qr = QR code of the secret for your app
shop-codes-type = Or type this secret into it:
shop-codes-prove = Write the six digits that it shows now.
shop-codes-begin = Turn codes on
shop-codes-on = Codes are on: the next sign-in asks for one.
shop-codes-are-on = Codes are on. Turning them off takes your password.
shop-codes-end = Turn codes off
shop-codes-off = Codes are off: signing in takes your password alone.
shop-sign-in-wait = Too many tries. Wait { $minutes } min, then try again.
shop-password-changed = The password is changed, and every other device is signed out.
shop-password-wrong = This is not the password you use now.
shop-signed-out = Every device is signed out.
shop-saved = Saved.
shop-login-taken = This login is taken: choose another.
shop-staff-added = { $name } can sign in as { $login }.
shop-staff-gone = { $name } can no longer sign in.
shop-customer-deleted = { $name } is deleted, with everything that was theirs.
shop-link-no-more = The link no longer works.
shop-due-dropped = It is no longer due.
shop-job-kept = Kept. The job is still open.
shop-history-told = { $count ->
    [one] { $count } reading, { $low } to { $high } { $unit } above the air
   *[other] { $count } readings, the last { $low } to { $high } { $unit } above the air
}
shop-table-yes = yes
shop-answer-or = or
shop-answer-to = to

shop-check-by = Made by { $name }, who borrowed the trailer

shop-find = Find
shop-find-label = Name, phone, plate or work order
shop-find-help = The beginnings of words are enough; of a phone number its last digits. Jobs are found by what was worked on, too, such as bearing or tire.
shop-find-nothing = Nothing is found by { $text }.
shop-find-more = There is more that fits: add a word or a digit.
# By which words a shop finds jobs on these, beside the name of the work itself.
shop-find-work-bearings = hub, bearing, grease, race, roller, seal, spindle
shop-find-work-wheels = wheel, nut, stud, rim
shop-find-work-brakes = brake, drum, shoe, disc, pad, magnet
shop-find-work-tires = tire, tyre, flat, patch, spare
shop-find-work-lamps = wire, wiring, lamp, light, bulb, plug, connector
shop-find-work-coupling = coupler, hitch, tongue, ball, chain, jack, breakaway
shop-find-work-body = frame, deck, floor, spring, axle, fender, weld
shop-find-customer = Find by name or phone
shop-list-show = Which trailers
shop-list-show-all = All trailers
shop-list-show-stop = To be stopped
shop-list-show-mend = To be mended
shop-list-show-look = To be looked at again
shop-list-show-overdue = Overdue
shop-list-sort = In which order
shop-list-sort-recent = Last worked on
shop-list-sort-name = By name
shop-list-none = None of these.
shop-jobs-open = Open
shop-jobs-finished = Finished
shop-job-correct = Correct this job
shop-job-held = { $who } has a form of this job that is not stored ({ $day }, { $time }).
shop-job-held-open = Open it
shop-deeds = Who did what
shop-did-added = added it
shop-did-kept = kept it open
shop-did-finished = finished it
shop-did-corrected = corrected it
shop-did-changed = changed it
shop-did-merged = took another one into it
shop-did-gone = said it is another one
shop-did-parted = took that apart again
shop-did-dropped = dropped it
shop-did-undropped = made it due again
shop-did-revoked = took the link back
shop-did-unrevoked = gave the link again
shop-did-removed = removed them
shop-did-unremoved = let them in again
shop-did-noted = wrote a note
shop-did-decided = decided it
shop-did-emptied = emptied on the bench what it was found by
shop-did-reopened = put it back in the inbox
shop-did-reworded = changed a reply
shop-undone = Undone.
shop-due-dropped-lately = Dropped lately
shop-undrop = Make it due again
shop-link-unrevoke = Give it again
shop-staff-left = Left lately
shop-staff-unremove = Let { $name } in again
shop-merge = It is in the list twice
shop-job-twin = Another trailer here has the name and owner of { $trailer }, its plate or its VIN. Are both one?
shop-merge-title = { $name } is in the list twice: which is the other one?
shop-merge-help = Jobs, checks and links of this one move to the one you pick, and this one goes. For 30 days that can be taken apart again.
shop-merge-this = It is this one
shop-merge-none = None of these
shop-merged = They are one now.
shop-merged-meanwhile = Meanwhile somebody found this to be { $name }. What you typed is not stored yet: look whether it is right for { $name }, then save.
shop-part = Take apart again: { $name }

### The lending desk.

shop-fleet = Lending desk
shop-fleet-out = Out since { $day }.
shop-fleet-in = In
shop-fleet-told = Back { $day }: the borrower says so.
shop-fleet-last = Last check { $day }.
shop-fleet-never = No check yet.
shop-fleet-due = Due: { $what }
shop-fleet-back = It is back
shop-fleet-goes = Goes out
shop-fleet-out-now = It goes out
shop-fleet-stays = Something found on it is not decided. Do not lend it before somebody has.
shop-fleet-meanwhile = Meanwhile { $trailer } went out to somebody else. Nothing was stored: look who has it, then go on.
shop-fleet-anyway = It goes out all the same; I have looked at what was found
shop-fleet-why = Name and number are for calling whoever has it. They go from here when it is back.
shop-fleet-more = More
shop-fleet-none = No trailer has a desk code yet. Make one on a trailer’s page, or for all of your own trailers here.
shop-fleet-codes = Print all codes
shop-fleet-make = { $count ->
    [one] Make a code for 1 trailer of your own
   *[other] Make codes for { $count } trailers of your own
  }

### Recall and season, and texts to send.

shop-recall = Ask back
shop-recall-figures = Bearings every { $months } months or { $distance }
shop-recall-figures-help = Your own figures come first. Empty: { $months } months or { $distance }, as a trailer maker’s manual has it. Where an axle’s maker says less, that counts.
shop-recall-repack = Bearings to be packed
shop-recall-repack-help = By the last job on hubs here, or what the owner told; miles as checks told them, so at least so many.
shop-recall-tires = Tires by age
shop-recall-tires-help = The oldest tire of each trailer, as its newest check has it.
shop-recall-stored = Stored since
shop-recall-stored-help = Left to be stored, and nothing heard of since.
shop-recall-csv = As CSV
shop-recall-since = since { $day }
shop-recall-unknown = Nobody has told when
shop-recall-head-trailer = trailer
shop-recall-head-customer = customer
shop-recall-head-phone = phone
shop-recall-head-since = since
shop-recall-head-driven = driven, { $unit }
shop-recall-head-years = years
shop-recall-head-open = not decided
shop-send = Text to the customer
shop-send-sms = Send as a text
shop-send-share = Share
shop-send-copy = Copy
shop-send-copied = Copied.
form-repack-months = Months between packings
form-repack-miles = Distance between packings, in { $unit }
form-repack-odd = Months from 1 to 60, a distance from 100 to 100,000, or leave it empty.
shop-address-doubtful = The codes name an address that is this computer’s own, or has no https. Other phones may not reach it, and there the app cannot work without signal. Set TWENTYMILE_ADDRESS to the https address before you print.

### What came back after a job.

shop-comebacks-title = What came back
shop-comebacks-count = { $checks ->
    [one] { $checks } check found { level-stop } or { level-mend } within 90 days after a job.
   *[other] { $checks } checks found { level-stop } or { level-mend } within 90 days after a job.
} Jobs looked at: { $jobs }.
shop-comebacks-span = Finished from { $first } to { $last }.
shop-comebacks-earlier = Jobs before these
shop-comebacks-help = It counts what was found, not whose fault it is.
shop-comebacks-checks = Checks
shop-comebacks-by-part = By part
shop-comebacks-by-wheel = By wheel
shop-comebacks-by-work = By work that was done
shop-comebacks-by-season = By season
shop-comebacks-of = { $jobs ->
    [one] { $count } of { $jobs } job
   *[other] { $count } of { $jobs } jobs
}
shop-season-winter = December to February
shop-season-spring = March to May
shop-season-summer = June to August
shop-season-fall = September to November

### Customers and trailers from a spreadsheet.

shop-take = Take in a table
shop-take-help = Customers and trailers from a spreadsheet. You see what every row becomes before anything is stored, and it can be undone for 30 days.
shop-take-kind = What is in it?
shop-take-kind-trailers = Trailers, with their customers
shop-take-kind-customers = Customers alone
shop-take-file = The file
shop-take-file-help = Saved as CSV, with commas, semicolons or tabs between; the first row names the columns. Up to 5,000 rows.
shop-take-look = Look at it
shop-take-empty-title = Empty tables to fill in
shop-take-before = Taken in lately
shop-take-is-open = not taken in yet
shop-take-is-in = taken in
shop-take-is-undone = undone
shop-take-empty = The file is empty. Pick another.
shop-take-no-text = This is no CSV. Open it in your spreadsheet, save it as CSV, and pick that file.
shop-take-torn = The rows cannot be told apart ({ $why }). Save it as CSV again, and pick that file.
shop-take-no-column = The first row names no column { $name }. Name the columns as in the empty table below.
shop-take-column-twice = Two columns are called { $name }. Rename or delete one of them.
shop-take-no-rows = There is no row below the names of the columns.
shop-take-many = { $rows } rows are in it. Split it into files of at most { $most }.
shop-take-no-kind = Say what is in it.
shop-take-no-file = Pick a file.
shop-take-counted = To be taken in: { $good }. Here already: { $same }. To be put right: { $wrong }.
shop-take-nothing-yet = Nothing is stored yet.
shop-take-unknown = The column { $name } is not taken in.
shop-take-wrong = To be put right
shop-take-wrong-help = These rows stay out. Put them right in your spreadsheet and take the file in again: what is here by then is left out.
shop-take-at = Row { $row }, { $column }:
shop-take-row = Row { $row }:
shop-take-more = And { $count } more.
shop-take-same = Here already
shop-take-same-help = These rows stay out, unless you tick them.
shop-take-hinted = Look twice
shop-take-good = To be taken in
shop-take-take = Take them in
shop-take-drop = Throw this file away
shop-take-cell-missing = Write a name.
shop-take-cell-whose = There is a phone or email, and no name to go with it. Write the customer’s name.
shop-take-cell-email = Write it like name@example.org, or leave it empty.
shop-take-cell-choice = Write one of these: { $choices }.
shop-take-cell-two = Two customers are called { $name }. Write the phone of the one that is meant.
shop-take-here = { $name } is here already.
shop-take-above = The same as row { $row }.
shop-take-known = { $name }, who is here already
shop-take-new = { $name }, new
shop-take-namesake = Another { $name } with another phone is here already.
shop-take-trailer = { $name }
shop-take-trailer-of = { $name } of { $whose }
shop-take-done = Taken in: { $trailers ->
    [one] { $trailers } trailer
   *[other] { $trailers } trailers
}, { $customers ->
    [one] { $customers } customer
   *[other] { $customers } customers
}.
shop-take-undo = Undo it
shop-take-undo-help = What has a job, a check or a change of its own since then stays.
shop-take-was-undone = Undone { $day }.
shop-take-kept = { $count ->
    [one] Undone, but for { $count } row that has something of its own since.
   *[other] Undone, but for { $count } rows that have something of their own since.
}
shop-did-took_in = took it in
shop-did-undid = undid it
# What people call the columns, one after the other.
shop-take-called-customer = customer name, owner, client
shop-take-called-phone = telephone, tel, mobile, cell, phone number
shop-take-called-email = e-mail, mail, email address
shop-take-called-trailer = trailer name, name, unit
shop-take-called-plate = license plate, licence plate, plate number, registration
shop-take-called-vin = serial, serial number, vin number

# Photos from the bench, at a job
shop-photos = Photos from the bench
shop-photos-help = From this phone's camera or its pictures, up to { $most } at once. Where, when and with what they were taken is left out.
shop-photos-choose = Take or choose photos
shop-photos-add = Put them in
shop-photos-one = From the bench, { $day }
shop-photos-kept = { $count ->
    [one] The photo is kept.
   *[other] { $count } photos are kept.
}
shop-photos-known = They are here already.
shop-photos-none = No photo is chosen. Choose at least one, then put it in.
shop-photos-at-once = { $most } are taken at once. The last { $left } are not kept: choose them again.
shop-photos-wrong = { $name } is not kept. { $why }
shop-photos-kept-beside = The other photos are kept.
shop-photos-small = Making them smaller …
shop-photos-offline = No signal: nothing is sent yet. Leave this page open, and press again when there is some.
shop-photos-remove = Remove this photo
shop-photos-removed = The photo is removed. It can be brought back for { $days } days.
shop-photos-removed-lately = Removed lately
shop-photos-back = Bring back the photo of { $day }, { $time }
shop-did-photographed = put in a photo
shop-did-unphotographed = removed a photo
shop-did-rephotographed = brought a photo back
shop-photos-job = To the job
