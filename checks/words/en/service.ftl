point-service = Last bearing service
point-service_since = Since that service

quantity-service_age = since the last bearing service

fact-service_year = In which year were the bearings last packed?
    .help = From the shop's bill or the bench record. Skip it if nobody knows.
fact-service_month = In which month?
    .help = 1 for January to 12 for December.
fact-service_run = How far has it run since the bearings were packed?
fact-dunked = Have the hubs been under water since?
    .choice-no = No
    .choice-yes = Yes
fact-salted = Through road salt or salt water since?
    .choice-no = No
    .choice-yes = Yes
fact-stood_months = How many months has it just been standing?

finding-service_due = Bearings due for service
    .do = Have them cleaned, looked at and packed, with new seals, by the maker's interval. Until then feel the hubs at every stop.
    .why = A maker's manual asks for it every 12 months or 12,000 miles (19,000 km), whichever comes first.
    .doubt = Could be that the bearings are due for service. To know: when were they last packed, and how far have they run since?
finding-hubs_dunked = Hubs have been under water
    .do = Have the bearings looked at and packed before the season's next long trip. Let hubs cool before they go in.
    .why = A warm hub draws water in past its seal, and water in the grease rusts the races.
finding-hubs_salted = Hubs have met salt
    .do = Rinse with fresh water, and look at caps and seals for rust and wet grease.
    .why = Salt creeps past a worn seal and pits the races.
finding-hubs_stood = Bearings after long standing
    .do = Turn each wheel on a stand and listen before the first trip. Stop and feel the hubs early.
    .why = Grease runs down and races rust in a line where the rollers stood.
