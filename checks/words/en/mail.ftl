### Mail to the shop.

text-link-open = { $shop }: { $trailer } is not cleared to be towed: something found on it is still open. Please open this link on your phone before you touch or move it: { $address }
text-link = { $shop }: { $trailer } is ready. Please open this link on your phone before you drive off. It tells you when to stop and what to look for, and sends us what you find: { $address }
mail-subject = { level-stop }: { $trailer }
mail-body = A check of { $trailer } came back with { level-stop }.
mail-subject-held = { level-look }, do not drive on yet: { $trailer }
mail-body-held = A check of { $trailer } came back with { level-look }. Do not drive on before this is settled:
mail-also = Nor is this decided yet:
mail-decide = Read it and decide: { $where }
mail-inbox = the inbox
mail-subject-stops = { $count ->
    [one] { $count } more check with { level-stop } from one link
   *[other] { $count } more checks with { level-stop } from one link
}
mail-subject-helds = { $count ->
    [one] { $count } more check from one link: do not drive on yet
   *[other] { $count } more checks from one link: do not drive on yet
}
mail-subject-mend = { $count ->
    [one] { $count } check with { level-mend }
   *[other] { $count } checks with { level-mend }
}
mail-subject-overdue = { $count ->
    [one] { $count } check is overdue
   *[other] { $count } checks are overdue
}
mail-more = And { $count } more.
mail-read = Read on: { $where }
mail-a-trailer = a trailer
text-reply = { $shop }, about your check of { $trailer }: { $reply }
text-overdue = { $shop }: a check of { $trailer } has not come back yet: { $what }. Please make it with the link we sent you, or call us: { $phone }
text-still-open = Do not tow it before you have spoken to us: something found on { $trailer } is still open.
text-recall-repack = { $shop }: the wheel bearings of { $trailer } are due to be cleaned and packed. Call us for a day that suits you: { $phone }
text-recall-tires = { $shop }: the tires of { $trailer } are getting old. Have them looked at before the next long trip. Call us: { $phone }
text-recall-stored = { $shop }: { $trailer } has been stored for a while. Before its first trip walk round it, and look at tires, lamps and hubs. Call us if you would rather we did: { $phone }
