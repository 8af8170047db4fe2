### Mail to the shop.

text-link-open = { $shop }: { $trailer } is not cleared to be towed: something found on it is still open. Please open this link on your phone before you touch or move it: { $address }
text-link = { $shop }: { $trailer } is ready. Please open this link on your phone before you drive off. It tells you when to stop and what to look for, and sends us what you find: { $address }
mail-subject = { level-stop }: { $trailer }
mail-body = A check of { $trailer } came back with { level-stop }.
mail-decide = Read it and decide: { $where }
mail-inbox = the inbox
mail-a-trailer = a trailer
